#include "ui/practice_words_pair.h"

#include <cmath>

#include "practice/exercise_asking.h"
#include "practice/verdict_words.h"

namespace gripline {

std::string pair_asked_words(const PracticeStep& approach) {
    const PracticeStep& target = *given_for(approach);
    return std::string("from ") + std::string(word(approach.asked.from.value_or(From::below))) + " into " + target.chord + ", bass " + target.bass;
}

std::string count_words(std::optional<int> count) {
    std::string out;
    for (int each = 0; each <= kTargetCount; ++each) {
        if (each > 0) out += each % 4 == 0 ? " | " : " ";
        const std::string name = each == kApproachCount ? "approach" : each == kTargetCount ? "target" : std::to_string(each % 4 + 1);
        out += count == each ? "[" + name + "]" : name;
    }
    return out;
}

/// The same in a word or two, for a screen that has no room for the row.
std::string count_state(std::optional<int> count) {
    if (!count) return "Count-in";
    if (*count > kTargetCount) return "Listening";
    if (*count >= kApproachCount) return *count == kApproachCount ? "Approach" : "Target";
    return "Bar " + std::to_string(*count / 4 + 1) + ": " + std::to_string(*count % 4 + 1);
}

void fill_pair_listening(PracticeView& view, const PracticeSession& session, const PracticeFacts& facts) {
    const PracticeStep& asked = *session.asked();
    const auto count = facts.in_time.count;
    view.headline = "In time " + pair_asked_words(asked) + ".";
    view.state = count_state(count);
    view.details.push_back(count_words(count));
    view.brief_why = count_words(count);
    const std::string bpm = "Tempo " + std::to_string(std::lround(facts.in_time.tempo_bpm));
    const bool uncertain = !facts.in_time.delay_known && !facts.in_time.silent;
    std::string tempo = uncertain ? bpm + " (+ -). Delay not measured, times not certain: gripline calibrate" : bpm + " counts a minute (+ -)";
    if (facts.in_time.silent) tempo += "; no output: counts on the screen alone";
    view.details.push_back(tempo + ".");
    if (session.pair()) view.next = "Last time: " + pair_words(*session.pair(), asked).headline;
    else if (!facts.why.empty()) view.next = "Why this: " + facts.why + ".";
}

}  // namespace gripline
