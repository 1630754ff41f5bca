// A line in ABC notation (standard 2.1).
#pragma once

#include <string>

#include "chart/chart.h"
#include "lines/line.h"

namespace gripline {

/// One tune: chords of the chart as chord symbols, each grip as a chord of notes at the pitch that sounds, accidentals written at every
/// note. Repeats are written out. The line and the chart belong together.
[[nodiscard]] std::string line_abc(const Chart& chart, const Line& line);

}  // namespace gripline
