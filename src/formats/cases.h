// A list of strums to mark: one row a strum, what was asked and in which recording.
#pragma once

#include <istream>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "formats/csv.h"
#include "judge/verdict.h"

namespace gripline {

struct StrumCase {
    long line = 0;     ///< of the list, from 1
    std::string name;  ///< column `case`, handed back
    std::string take;  ///< the recording, as written
    double from_s = 0.0;
    Target target;
};

/// A row of the list: a case, or why it can't be read (with the name, as far as that could be read).
struct CaseRow {
    std::string name;
    std::optional<StrumCase> strum;  ///< empty when the row can't be read
    std::string error;               ///< then: line, column, value, what is allowed
};

/// Where the columns stand; -1 where one is absent.
struct CaseColumns {
    int name = -1, take = -1, from_s = -1, grip = -1, chord = -1, bass = -1, tuning = -1, capo = -1, a4_hz = -1;
};

/// Reads the heading. An error when there is none, a column that is needed is missing, or one stands twice.
Result<CaseColumns> read_case_columns(const CsvRow& heading);
/// Reads one row below it.
CaseRow read_case(const CsvRow& row, const CaseColumns& columns);
/// Reads a whole list. An error only when nothing of it can be used (no heading, no row).
Result<std::vector<CaseRow>> read_cases(std::istream& in);

}  // namespace gripline
