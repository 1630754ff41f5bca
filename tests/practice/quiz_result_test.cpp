#include <doctest/doctest.h>

#include "practice/quiz_result_fixture.h"

using namespace gripline;
using enum gripline::QuizOutcome;

TEST_CASE("A part is marked by its questions right of all its questions, and passed from its own per cent on") {
    Quiz quiz = test::grips_quiz();
    quiz.parts[0].pass_percent = 75;
    const auto three = test::result_of(quiz, "a", {right, wrong, right, right});
    CHECK(marks(three).front().right == 3);
    CHECK(marks(three).front().percent() == 75.0);
    CHECK(marks(three).front().passed);
    CHECK_FALSE(marks(test::result_of(quiz, "a", {right, unheard, right, not_reached})).front().passed);
    CHECK(whole_mark(three).of == 4);
}

TEST_CASE("Unsure answers are those decided by a strum whose confidence lies between 0.1 and 0.9") {
    QuizAnswer answer;
    answer.outcome = right;
    for (const auto& [confidence, is_unsure] : {std::pair{0.05, false}, {0.1, false}, {0.11, true}, {0.5, true}, {0.89, true}, {0.9, false}}) {
        answer.tries = {test::one_try(VerdictKind::right, confidence)};
        CHECK(unsure(answer) == is_unsure);
    }
    answer.outcome = unheard;
    answer.tries = {test::one_try(VerdictKind::unheard, 0.5)};
    CHECK_FALSE(unsure(answer));
    answer.outcome = right;
    answer.tries.clear();
    CHECK_FALSE(unsure(answer));
}

TEST_CASE("What to practise names the skill that went worst first, and nothing when all was right") {
    const Quiz quiz = test::grips_quiz();  // C7 chord grips, one of them named as Bdim7
    CHECK(what_to_practise(test::result_of(quiz, "a", {right, right, right, right})).empty());
    const auto words = what_to_practise(test::result_of(quiz, "a", {wrong, right, right, right}));
    REQUIRE(words.size() == 1);
    CHECK(words.front() == "Practise the chord grips of 7 chords: 2 of 3 right.");
}
