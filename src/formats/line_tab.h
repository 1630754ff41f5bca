// A line as plain tablature: six lines of text, a number where a finger stands.
#pragma once

#include <string>

#include "chart/chart.h"
#include "lines/line.h"

namespace gripline {

/// Rows of bars, at most 80 columns wide (a bar is never broken), string 1 on top, chords above. ASCII. The line and the chart belong together.
[[nodiscard]] std::string line_tab(const Chart& chart, const Line& line);

}  // namespace gripline
