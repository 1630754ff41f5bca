// What the reader of chart symbols and the reader of labels share. Internal to src/theory.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "theory/chord_symbol.h"

namespace gripline::reading {

inline constexpr std::size_t kLongest_bytes = 64;  // no chord of a chart needs half of it

/// Root in front of `rest`, which is shortened by it. `whole` is for the message.
[[nodiscard]] Result<NoteName> take_root(std::string_view& rest, std::string_view whole);
/// Empty, or more than kLongest_bytes: an error in `error`, and true.
[[nodiscard]] bool unusable(std::string_view text, Error& error);
/// Puts the degrees in order of their number (9, 11, 13 last; root first).
void sort_degrees(std::vector<Interval>& degrees);
/// Sets `bass` on the chord, but not when it is the root itself.
void set_bass(ChordSymbol& chord, NoteName bass);

}  // namespace gripline::reading
