// The words of approach and target asked in time. Private to practice_words.cpp.
#pragma once

#include <string>

#include "ui/practice_words.h"

namespace gripline {

/// "from below into C7, bass E".
[[nodiscard]] std::string pair_asked_words(const PracticeStep& approach);
/// "1 2 3 4 | 1 [2] 3 approach | target": the count that is heard in brackets.
[[nodiscard]] std::string count_words(std::optional<int> count);
/// What the player should do, and which count is heard.
void fill_pair_listening(PracticeView& view, const PracticeSession& session, const PracticeFacts& facts);

}  // namespace gripline
