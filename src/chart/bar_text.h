// One bar as text: which chord sounds on which count. Internal to src/chart.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "chart/chart.h"

namespace gripline {

/// How `chords` chords share `counts` counts, the first ones longer: 3 in 4 are 2, 1, 1. chords: 1 to counts.
[[nodiscard]] std::vector<int> shared_counts(int chords, int counts);

/// Reads what stands between two bar lines into `bar`, whose meter is the one in force until the text changes it. `last`: the bar before, or
/// nullptr. The message of an error has its beat in front, and no bar: "beat 3: unknown quality ...".
[[nodiscard]] Result<Bar> parse_bar(std::string_view text, Bar bar, const Bar* last);

/// The chords of a bar as text, without meter and bar lines.
[[nodiscard]] std::string bar_text(const Bar& bar);

}  // namespace gripline
