// A line as text on a terminal: bars with the chord over each grip.
#pragma once

#include <iosfwd>

#include "chart/chart.h"
#include "lines/line.h"

namespace gripline {

/// The chart's title, key, meter, tempo.
void print_chart_head(const Chart& chart, std::ostream& out);
/// Each bar in two rows: what sounds (with its bass behind a slash, an approach with its side), and the grips. Remarks below. 80 columns.
void print_line(const Chart& chart, const Line& line, std::ostream& out);
/// Each beat's costs and second best.
void print_reasons(const Line& line, std::ostream& out);

}  // namespace gripline
