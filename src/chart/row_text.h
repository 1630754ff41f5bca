// One row of bars as text: bar lines, repeat signs, endings. Internal to src/chart.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "chart/chart.h"

namespace gripline {

/// Reads a row and adds its bars to `bars`; `meter` is the one in force and changes with the row. The first new bar starts a row.
/// Returns the number of new bars. Messages begin with their bar: "bar 2, beat 3: ...".
[[nodiscard]] Result<int> parse_row(std::string_view row, std::vector<Bar>& bars, Meter& meter);

}  // namespace gripline
