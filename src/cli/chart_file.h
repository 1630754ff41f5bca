// The chart that a word on the command line means: a file of any kind that charts are read from, or a chart of the library.
#pragma once

#include <string>

#include "chart/chart.h"
#include "cli/file_kind.h"
#include "formats/chart_import.h"

namespace gripline {

/// Reads the file (its ending tells the kind; any other is plain text), or where there is none the library's chart of that name. Messages name the file.
/// What the chart can't hold of an imported file is added to `remarks`, when there are any to add to.
[[nodiscard]] Result<Chart> open_chart(const std::string& word, std::vector<std::string>* remarks = nullptr);

/// The same with the kind named; "-" is the standard input.
[[nodiscard]] Result<ImportedChart> open_chart_of(const std::string& path, FileKind kind);

/// A chart from the bytes of a file of that kind.
[[nodiscard]] Result<ImportedChart> read_chart(std::string_view bytes, FileKind kind);

/// The chart in the key that --key asks for (empty: as written). Messages name the option.
[[nodiscard]] Result<Chart> chart_in_key(const Chart& chart, const std::string& key);

}  // namespace gripline
