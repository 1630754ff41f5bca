// Comma-separated values as RFC 4180 has them: quoted fields, doubled quotes, CRLF or LF; a UTF-8 byte-order mark is skipped.
#pragma once

#include <cstddef>
#include <istream>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"

namespace gripline {

/// Longest field taken, bytes, and most fields in a row: far above any list of strums, and low enough that garbage can't fill memory.
inline constexpr std::size_t kMaxCsvField = 65536;
inline constexpr std::size_t kMaxCsvFields = 1024;

/// Text as a quoted field; what a spreadsheet would calculate is made text, and control characters become '?'.
[[nodiscard]] std::string csv_field(const std::string& text);

struct CsvRow {
    long line = 0;                    ///< line of the file on which the row begins, from 1
    std::vector<std::string> fields;  ///< unquoted; at least one
};

/// Reads row after row; memory is that of one row.
class CsvReader {
public:
    /// `in` must outlive the reader.
    explicit CsvReader(std::istream& in);
    /// The next row; nullopt at the end of the file. Empty lines are passed over. An error names the line, and the next call goes
    /// on behind the broken row: at the next line, or at the end of the file when a quote was never closed.
    Result<std::optional<CsvRow>> next();

private:
    void skip_line();
    bool read_quoted(std::string& field, std::string& trouble);
    bool read_plain(std::string& field, std::string& trouble);

    std::istream& in_;
    long line_ = 1;
};

}  // namespace gripline
