// A table of text for a terminal, row by row: columns of fixed width, the last one free.
#pragma once

#include <ostream>
#include <string>
#include <vector>

namespace gripline {

struct TableColumn {
    std::string heading;
    int width = 8;       ///< characters; longer text pushes the row on, never is cut
    bool right = false;  ///< numbers stand right
};

class TextTable {
public:
    TextTable(std::ostream& out, std::vector<TableColumn> columns);
    /// One field a column, UTF-8. Control characters are shown as '?', so that no recording's name can move the cursor. The first row brings the heading.
    void row(const std::vector<std::string>& fields);

private:
    std::ostream& out_;
    std::vector<TableColumn> columns_;
    bool begun_ = false;
};

/// A number with that many decimals, with a point whatever the locale.
[[nodiscard]] std::string decimal(double value, int places);

}  // namespace gripline
