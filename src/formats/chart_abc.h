// A chart in ABC notation (standard 2.1): chord symbols over rests.
#pragma once

#include <string>

#include "chart/chart.h"

namespace gripline {

/// One tune, with repeats, endings, parts and rows. What the standard has no sign for is written as remark fields, which other programs pass over: `[r:as before]` before a
/// bar that repeats the last, `[r:walk on Eb6]` before a chord with a chosen scale; comments are comments. read_abc() reads it back to the same chart.
[[nodiscard]] std::string chart_abc(const Chart& chart);

/// Text of an ABC field: no line ends; percent sign and backslash escaped (ABC 2.1, 8.2).
[[nodiscard]] std::string abc_field_text(const std::string& text);
/// The chord as the chart writes it, but a half-diminished sign % as m7b5: it would begin a comment.
[[nodiscard]] std::string abc_symbol(const PlacedChord& chord);
/// "Bb", "F#m", with one accidental at most; `none` of a chart that names no key.
[[nodiscard]] std::string abc_key(const Chart& chart, const char* none);
/// "1/4=120", in 6/8 "1/8=180".
[[nodiscard]] std::string abc_tempo(const Chart& chart);

}  // namespace gripline
