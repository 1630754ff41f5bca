// When each beat of a line sounds, and how the bars of the played chart follow each other. Shared by the formats that lines are written to.
#pragma once

#include <vector>

#include "base/result.h"
#include "chart/chart.h"
#include "lines/line.h"

namespace gripline {

/// Times are in eighth notes, the smallest count of a chart.
struct TimedBeat {
    const LineBeat* beat = nullptr;
    int start = 0;   ///< from the start of the chart
    int length = 0;  ///< until the next beat of the line, at most to the end of the bar
};
struct TimedBar {
    const Bar* bar = nullptr;
    int start = 0;
    int length = 0;
    int count = 2;                 ///< eighths of a count: 2, in 6/8 1
    std::vector<TimedBeat> beats;
};

/// The bars as played. Pointers are into the chart and the line, which must belong together and outlive the result.
[[nodiscard]] std::vector<TimedBar> timed_bars(const Chart& chart, const Line& line);

/// A stroke sounds for so many tenths of its first count: chords are struck short (common practice, no source).
inline constexpr int kStrokeTenths = 6;
/// Whether a count is struck a little heavier: 2 and 4 of four (common practice, no source).
[[nodiscard]] bool is_heavy(const TimedBar& bar, int count);

/// Quarter notes a minute: the chart's tempo, in 6/8 half of it.
[[nodiscard]] double quarters_a_minute(const Chart& chart);

}  // namespace gripline
