// "Did you mean": the known word nearest to a mistyped one.
#pragma once

#include <string>
#include <vector>

namespace gripline {

/// The known word that takes the fewest insertions, deletions, changes and swaps of neighbours to reach (Damerau 1964),
/// if that is at most a third of its length, rounded up; otherwise empty.
[[nodiscard]] std::string nearest_word(const std::string& typed, const std::vector<std::string>& known);

}  // namespace gripline
