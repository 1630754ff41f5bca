// Charts as plain text, the way musicians write them.
//
//   title: Harbour Lights             # a comment runs to the end of its line
//   key: Bb          meter 4/4, 3/4, 2/2, 5/4 or 6/8, one heading a line
//   tempo: 120
//   [A]                               a section letter, above its row or in front of it
//   |: Bb6 G7 | Cm7 F7 | % |1. Dm7 G7 | Cm7 F7 :|2. Bb6 | N.C. |
//   | Eb7 / / E7 | x3                 slashes are counts; the row three times
//   | 3/4 Cm7{Eb6} |                  a change of meter; the scale to walk on in braces
#pragma once

#include <string>
#include <string_view>

#include "chart/chart.h"

namespace gripline {

/// Reads a chart of at most 1 MiB. Errors say line, bar and beat: `line 4, bar 2, beat 3: unknown quality "mja7" in "Cmja7"; ...`.
/// Chords of a bar share its counts; when they can't share them evenly the first ones take one more (three counts: 2 + 1; five: 3 + 2), and
/// three chords in four counts are 2 + 1 + 1.
[[nodiscard]] Result<Chart> parse_chart(std::string_view text);

/// The chart as text; parse_chart() reads it back to an equal chart.
[[nodiscard]] std::string chart_text(const Chart& chart);

}  // namespace gripline
