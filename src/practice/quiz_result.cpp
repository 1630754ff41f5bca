#include "practice/quiz_result.h"

#include <algorithm>
#include <array>
#include <map>

namespace gripline {
namespace {

constexpr std::array<std::string_view, 4> kOutcomes{"right", "wrong", "unheard", "not reached"};
constexpr std::array<std::string_view, 3> kEndings{"finished", "time over", "handed in"};

/// A skill in the words of the trade: "approaches from above into 7 chords".
std::string skill_words(const QuizQuestion& question) {
    const std::string chords = question.quality.empty() ? "major chords" : question.quality + " chords";
    switch (question.role) {
        case Sounds::approach: return "approaches " + (question.from ? "from " + std::string(word(*question.from)) + " " : "") + "into " + chords;
        case Sounds::passing: return "the diminished passing grips of " + chords;
        default: return "the chord grips of " + chords;
    }
}

std::string bass_words(const QuizQuestion& question) { return "grips with " + question.step.bass + " in the bass"; }

struct Need {
    std::string what;
    int missed = 0, of = 0;
};

std::vector<Need> needs(const QuizResult& result, std::string (*words)(const QuizQuestion&)) {
    std::map<std::string, Need> by_words;
    for (const QuizAnswer& answer : result.answers) {
        if (answer.outcome == QuizOutcome::not_reached) continue;
        Need& need = by_words[words(answer.question)];
        ++need.of;
        if (answer.outcome != QuizOutcome::right) ++need.missed;
    }
    std::vector<Need> out;
    for (auto& [what, need] : by_words) {
        need.what = what;
        if (need.missed > 0) out.push_back(need);
    }
    std::stable_sort(out.begin(), out.end(), [](const Need& a, const Need& b) { return a.missed * b.of > b.missed * a.of || (a.missed * b.of == b.missed * a.of && a.missed > b.missed); });
    return out;
}

}  // namespace

std::string_view word(QuizOutcome outcome) noexcept { return kOutcomes[static_cast<std::size_t>(outcome)]; }
std::string_view word(QuizEnding ending) noexcept { return kEndings[static_cast<std::size_t>(ending)]; }

bool unsure(const QuizAnswer& answer) noexcept {
    const bool judged = answer.outcome == QuizOutcome::right || answer.outcome == QuizOutcome::wrong;
    return judged && !answer.tries.empty() && answer.confidence() > kUnsureFrom && answer.confidence() < kUnsureTo;
}

std::vector<PartMark> marks(const QuizResult& result) {
    std::vector<PartMark> out(result.parts.size());
    for (const QuizAnswer& answer : result.answers) {
        PartMark& mark = out[static_cast<std::size_t>(answer.question.part)];
        ++mark.of;
        if (answer.outcome == QuizOutcome::right) ++mark.right;
    }
    for (std::size_t i = 0; i < out.size(); ++i) out[i].passed = out[i].right * 100 >= result.parts[i].pass_percent * out[i].of;
    return out;
}

PartMark whole_mark(const QuizResult& result) {
    PartMark out;
    out.passed = true;
    for (const PartMark& mark : marks(result)) {
        out.right += mark.right;
        out.of += mark.of;
        out.passed = out.passed && mark.passed;
    }
    return out;
}

std::vector<std::string> what_to_practise(const QuizResult& result, std::size_t most) {
    std::vector<Need> all = needs(result, skill_words);
    for (Need& need : needs(result, bass_words))
        if (need.missed > 1) all.push_back(std::move(need));
    std::vector<std::string> out;
    for (const Need& need : all) {
        if (out.size() == most) break;
        out.push_back("Practise " + need.what + ": " + std::to_string(need.of - need.missed) + " of " + std::to_string(need.of) + " right.");
    }
    return out;
}

}  // namespace gripline
