// What a screen leaves behind on the terminal when it closes.
#pragma once

#include <iosfwd>
#include <optional>
#include <string>
#include <vector>

namespace gripline {

/// Columns of the terminal that standard output is, 80 where it does not tell; nothing where it is a file or a pipe.
[[nodiscard]] std::optional<int> output_columns();

/// Writes the lines broken at words where they are longer than `columns`; whole where there are none: whatever reads a file breaks its lines itself.
void write_closing_lines(const std::vector<std::string>& lines, std::optional<int> columns, std::ostream& out);

}  // namespace gripline
