// Accidentals as text: b, #, x and the signs of Unicode, read and written in one place.
#pragma once

#include <string>
#include <string_view>

namespace gripline {

/// Unicode accidentals (U+266D, U+266E, U+266F, U+1D12A, U+1D12B) replaced by b, nothing, #, x, bb.
[[nodiscard]] std::string with_plain_accidentals(std::string_view text);
/// Reads a run of 'b', '#' and 'x' (double sharp) from `at` on and moves `at` behind it. Returns semitones, + is sharp.
/// A mixture such as "b#" ends the run at the change.
int read_accidentals(std::string_view text, std::size_t& at);
/// "b", "bb", "#", "##", "" for semitones; ASCII.
[[nodiscard]] std::string accidental_text(int semitones);
/// The same with the Unicode signs.
[[nodiscard]] std::string accidental_signs(int semitones);
/// `text` with every occurrence of `from` replaced.
[[nodiscard]] std::string replaced(std::string text, std::string_view from, std::string_view to);

}  // namespace gripline
