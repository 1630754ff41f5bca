// Quizzes for tests.
#pragma once

#include "practice/quiz.h"

namespace gripline::test {

inline NoteName note(const char* text) { return NoteName::parse(text).value(); }

/// Sixteen questions: dominant and minor sevenths in three keys, chord tones, passing chords and approaches, by name.
inline Quiz shells_quiz(QuizOrder order = QuizOrder::same, std::uint64_t seed = 7) {
    Quiz quiz;
    quiz.title = "Shells, week three";
    quiz.order = order;
    quiz.seed = seed;
    SkillsAsked skills;
    skills.qualities = {"7", "m7"};
    skills.keys = {note("C"), note("F"), note("Bb")};
    skills.roles = {Sounds::chord, Sounds::passing, Sounds::approach};
    QuizPart part;
    part.title = "By name";
    part.number = 16;
    part.what = skills;
    quiz.parts.push_back(part);
    return quiz;
}

/// Four explicit grips, right from the worked example of the trade: C dominant-seventh shells.
inline Quiz grips_quiz() {
    Quiz quiz;
    quiz.title = "Four grips";
    quiz.order = QuizOrder::fixed;
    GripsAsked asked;
    for (const auto& [grip, chord] : {std::pair{"8x89xx", "C7"}, {"10-x-9-10-x-x", "Bdim7"}, {"12-x-10-12-x-x", "C7"}, {"3x23xx", "C7"}})
        asked.grips.push_back({Grip::parse(grip).value(), chord});
    QuizPart part;
    part.title = "Grips";
    part.asking = Asking::shown;
    part.what = asked;
    quiz.parts.push_back(part);
    return quiz;
}

}  // namespace gripline::test
