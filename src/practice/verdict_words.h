// A verdict in the words of the trade, for screens, commands and reports alike.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "judge/verdict.h"
#include "practice/exercise.h"

namespace gripline {

/// A fault beyond the first is told from this chance on (judgement).
inline constexpr double kFaultToldFrom = 0.2;

/// One sentence: "String 4, one fret flat: Ab heard, A asked." Notes are named as the step's key spells them.
[[nodiscard]] std::string fault_words(const Fault& fault, const PracticeStep& step);

/// The first sentence says right or wrong and what; the others what else, and what to do.
struct VerdictWords {
    std::string headline;
    std::vector<std::string> details;
};
[[nodiscard]] VerdictWords verdict_words(const Verdict& verdict, const PracticeStep& step);

/// What a string was asked to sound and what it sounded, as far as the verdict tells.
struct StringHeard {
    StringNumber string;
    std::optional<Fret> fret;   ///< asked; nothing: to be damped
    std::string asked;          ///< note name, or empty
    std::string heard;          ///< note name, or empty: silent
    bool as_asked = true;
};
/// One for each string, lowest first. Without a verdict, `heard` is empty everywhere and `as_asked` true.
[[nodiscard]] std::vector<StringHeard> strings_heard(const PracticeStep& step, const std::optional<Verdict>& verdict);

}  // namespace gripline
