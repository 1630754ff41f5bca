// Builds walking lines over charts.
#pragma once

#include <vector>

#include "lines/line.h"
#include "lines/line_settings.h"

namespace gripline {

/// At most so many lines are built at once.
inline constexpr int kMostAlternatives = 20;
/// Alternatives have another grip on at least this share of the beats that are not locked: one in four, a beat of every bar.
inline constexpr double kLeastDifference = 0.25;

/// The best line over the chart, repeats played. Rules (common practice, no source): a chord begins on itself; within it the bass walks
/// by scale step, chord and diminished in turn; the last count before a change is an approach a semitone from its target. `explain`
/// also finds the best other grip of every beat. Errors as pose().
[[nodiscard]] Result<Line> build_line(const Chart& chart, const LineSettings& settings, bool explain = false);

/// Up to `count` (1 to kMostAlternatives) lines, the best first, each different from all before by kLeastDifference; fewer when there are
/// no more.
[[nodiscard]] Result<std::vector<Line>> build_lines(const Chart& chart, const LineSettings& settings, int count, bool explain = false);

}  // namespace gripline
