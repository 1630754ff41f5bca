#include <doctest/doctest.h>

#include "practice/practice_fixture.h"
#include "practice/quiz_fixture.h"
#include "practice/quiz_runner.h"

using namespace gripline;
using enum gripline::QuizState;

namespace {

/// A run whose stream time is the clock plus two seconds.
struct Run {
    explicit Run(Quiz quiz, QuizProgress so_far = {}) : runner(quiz, draw_questions(quiz, "s").value(), std::move(so_far)) {}
    [[nodiscard]] Moment now() const { return {now_s, now_s + 2.0}; }
    void wait(double for_s) {
        for (double end_s = now_s + for_s; now_s < end_s - 1e-9; now_s += 0.01) runner.pass(now());
    }
    void play(VerdictKind kind, double ago_s = 0.2) {
        Verdict verdict;
        verdict.kind = kind;
        verdict.confidence = kind == VerdictKind::right ? 0.99 : 0.01;
        verdict.onset_s = now().stream_s - ago_s;
        verdict.decided_s = now().stream_s;
        runner.hear(verdict, now());
    }
    QuizRunner runner;
    double now_s = 100.0;
};

Quiz four(int tries = 1, double question_s = 10.0, double all_s = 0.0) {
    Quiz quiz = test::grips_quiz();
    quiz.tries = tries;
    quiz.question_time_s = question_s;
    quiz.time_s = all_s;
    return quiz;
}

}  // namespace

TEST_CASE("A quiz counts down, asks, takes one strum a question, and is over after the last") {
    Run run(four());
    CHECK(run.runner.state() == ready);
    run.runner.start(run.now());
    run.wait(2.9);
    CHECK(run.runner.state() == counting_down);
    run.play(VerdictKind::right);
    CHECK(run.runner.progress().answers.empty());  // before the question
    run.wait(0.2);
    for (const VerdictKind kind : {VerdictKind::right, VerdictKind::wrong, VerdictKind::right, VerdictKind::right}) {
        CHECK(run.runner.state() == asking);
        run.wait(1.0);
        run.play(kind);
        CHECK(run.runner.state() == answer_shown);
        run.wait(1.1);
    }
    CHECK(run.runner.state() == over);
    CHECK(run.runner.ending() == QuizEnding::finished);
    const auto& answers = run.runner.progress().answers;
    REQUIRE(answers.size() == 4);
    CHECK(answers[0].outcome == QuizOutcome::right);
    CHECK(answers[1].outcome == QuizOutcome::wrong);
    CHECK(answers[2].tries.front().answer_s == doctest::Approx(0.9).epsilon(0.15));
    CHECK(run.runner.progress().used_s == doctest::Approx(4.0).epsilon(0.1));
}

TEST_CASE("A wrong strum uses up a try, a knock does not") {
    Run run(four(2));
    run.runner.start(run.now());
    run.wait(4.0);
    run.play(VerdictKind::unheard);
    run.wait(1.0);
    run.play(VerdictKind::wrong);
    CHECK(run.runner.state() == asking);
    run.play(VerdictKind::wrong, 0.1);  // still the ring of the strum before
    CHECK(run.runner.misses() == 1);
    run.wait(1.0);
    run.play(VerdictKind::right);
    REQUIRE(run.runner.progress().answers.size() == 1);
    CHECK(run.runner.progress().answers[0].outcome == QuizOutcome::right);
    CHECK(run.runner.progress().answers[0].tries.size() == 3);
}

TEST_CASE("When the time is over the answer is unheard; a strum that came in time still counts, one that came late does not") {
    Run run(four(1, 5.0));
    run.runner.start(run.now());
    run.wait(3.02 + 5.0 + 0.7);
    REQUIRE(run.runner.progress().answers.size() == 1);
    CHECK(run.runner.progress().answers[0].outcome == QuizOutcome::unheard);
    CHECK(run.runner.progress().answers[0].used_s == doctest::Approx(5.0));
    run.wait(0.9 + 5.0 + 0.15);
    REQUIRE(run.runner.state() == asking);
    CHECK(run.runner.question_left_s() == 0.0);
    run.play(VerdictKind::right, 0.3);  // began before the end
    CHECK(run.runner.progress().answers.size() == 2);
    CHECK(run.runner.progress().answers.back().outcome == QuizOutcome::right);
    run.wait(1.01 + 5.3);
    run.play(VerdictKind::right, 0.1);  // began after it
    CHECK(run.runner.progress().answers.size() == 2);
    run.wait(0.5);
    CHECK(run.runner.progress().answers.back().outcome == QuizOutcome::unheard);
}

TEST_CASE("A lost input stops the clock; it goes on after a count-down where it was") {
    Run run(four(1, 10.0));
    run.runner.start(run.now());
    run.wait(3.0 + 4.0);
    const double left_s = run.runner.question_left_s();
    run.runner.set_input(false, run.now());
    run.wait(60.0);
    CHECK(run.runner.state() == input_lost);
    CHECK(run.runner.question_left_s() == doctest::Approx(left_s).epsilon(0.01));
    run.play(VerdictKind::right);
    CHECK(run.runner.progress().answers.empty());
    run.runner.set_input(true, run.now());
    CHECK(run.runner.state() == counting_down);
    run.wait(3.05);
    CHECK(run.runner.state() == asking);
    CHECK(run.runner.question_left_s() == doctest::Approx(left_s).epsilon(0.01));
}

TEST_CASE("Pause only where the quiz allows it, and the clock stands") {
    Run strict(four());
    strict.runner.start(strict.now());
    strict.wait(4.0);
    CHECK_FALSE(strict.runner.pause(strict.now()));
    Quiz quiz = four();
    quiz.may_pause = true;
    Run run(quiz);
    run.runner.start(run.now());
    run.wait(4.0);
    const double left_s = run.runner.question_left_s();
    CHECK(run.runner.pause(run.now()));
    run.wait(30.0);
    CHECK(run.runner.question_left_s() == doctest::Approx(left_s).epsilon(0.02));
    CHECK(run.runner.pause(run.now()));
    run.wait(3.5);
    CHECK(run.runner.state() == asking);
}

TEST_CASE("The time in all ends the quiz; what was not reached has no answer") {
    Run run(four(1, 10.0, 12.0));
    run.runner.start(run.now());
    run.wait(60.0);
    CHECK(run.runner.state() == over);
    CHECK(run.runner.ending() == QuizEnding::time_over);
    CHECK(run.runner.progress().answers.size() == 2);
    CHECK(run.runner.progress().used_s >= 12.0);
}

TEST_CASE("A run goes on from its progress, with the time of the open question that was used") {
    Run first(four(2, 10.0));
    first.runner.start(first.now());
    first.wait(3.5);
    first.play(VerdictKind::right);
    first.wait(1.0 + 3.0);
    first.play(VerdictKind::wrong);
    const QuizProgress progress = first.runner.progress();
    Run second(four(2, 10.0), progress);
    CHECK(second.runner.place() == 1);
    CHECK(second.runner.misses() == 1);
    CHECK(second.runner.question_left_s() == doctest::Approx(first.runner.question_left_s()));
    second.runner.start(second.now());
    second.wait(3.5);
    second.play(VerdictKind::wrong);
    CHECK(second.runner.progress().answers.back().outcome == QuizOutcome::wrong);
    CHECK(second.runner.progress().answers.back().tries.size() == 2);
    QuizProgress whole = second.runner.progress();
    while (whole.answers.size() < 4) whole.answers.push_back(whole.answers.back());
    CHECK(Run(four(), whole).runner.state() == over);
}

TEST_CASE("While the tool sounds a question its clock stands and nothing heard is the student's") {
    Run run(four(1, 10.0));
    run.runner.start(run.now());
    run.wait(3.01);
    run.runner.sounding(1.6, run.now());
    run.wait(1.0);
    run.play(VerdictKind::right);
    CHECK(run.runner.progress().answers.empty());
    CHECK(run.runner.question_left_s() > 9.9);
    run.wait(2.0);
    run.play(VerdictKind::right);
    CHECK(run.runner.progress().answers.size() == 1);
}

TEST_CASE("A walked part: beats are given in order after a count-in, and its end leads on") {
    Quiz quiz = four();
    QuizPart walked;
    walked.what = ChartAsked{"| F7 |\n", "", 120.0};
    quiz.parts.insert(quiz.parts.begin(), walked);
    Run run(quiz);
    run.runner.start(run.now());
    run.wait(3.0);
    run.wait(0.02);
    REQUIRE(run.runner.state() == walking);
    const auto beats = run.runner.walk_beats();
    REQUIRE(beats.size() == 4);
    CHECK(beats[0].at_s == doctest::Approx(run.runner.asked_stream_s()));
    CHECK(beats[0].at_s - run.now().stream_s == doctest::Approx(2.0).epsilon(0.05));  // four counts at 120 a minute
    CHECK(beats[3].at_s - beats[0].at_s == doctest::Approx(1.5));
    for (std::size_t i = 0; i < 4; ++i) {
        CHECK(run.runner.state() == walking);
        BeatResult beat;
        beat.index = i;
        beat.any_strum = i != 2;
        beat.verdict.kind = i == 2 ? VerdictKind::unheard : VerdictKind::right;
        beat.off_ms = 12.0;
        run.runner.hear_beat(beat, run.now());
    }
    CHECK(run.runner.state() == answer_shown);
    CHECK(run.runner.progress().answers[2].outcome == QuizOutcome::unheard);
    CHECK(run.runner.progress().answers[3].tries.front().answer_s == doctest::Approx(0.012));
    run.wait(1.5);
    CHECK(run.runner.state() == asking);
}

TEST_CASE("Handing in keeps what there is") {
    Run run(four(2));
    run.runner.start(run.now());
    run.wait(3.5);
    run.play(VerdictKind::wrong);
    run.runner.hand_in();
    CHECK(run.runner.state() == over);
    CHECK(run.runner.ending() == QuizEnding::handed_in);
    REQUIRE(run.runner.progress().answers.size() == 1);
    CHECK(run.runner.progress().answers[0].outcome == QuizOutcome::wrong);
}

TEST_CASE("Where a try lies in its answer's sound: from the asking, from the part of a long answer that is kept, and nowhere when a break came after it") {
    Run run(four(3, 400.0));
    run.runner.start(run.now());
    run.wait(3.01);
    const double asked_s = run.runner.asked_stream_s();
    run.wait(10.0);
    run.play(VerdictKind::wrong);  // too long ago in the end
    run.wait(200.0);
    run.play(VerdictKind::wrong);
    run.wait(50.0);
    run.play(VerdictKind::right);
    const auto tries = run.runner.progress().answers.front().tries;
    REQUIRE(tries.size() == 3);
    CHECK(tries[0].sound_at_s == kNotInSound);
    const double from_s = run.runner.sound_from_s(0);
    CHECK(run.now().stream_s - from_s == doctest::Approx(QuizPace{}.sound_kept_s));
    CHECK(from_s > asked_s + 100.0);
    CHECK(tries[1].sound_at_s == doctest::Approx(QuizPace{}.sound_kept_s - 50.2));
    CHECK(tries[2].sound_at_s == doctest::Approx(QuizPace{}.sound_kept_s - 0.2));
    run.wait(1.1);
    run.wait(5.0);
    run.play(VerdictKind::wrong);
    run.wait(1.0);
    run.runner.set_input(false, run.now());
    run.wait(5.0);
    run.runner.set_input(true, run.now());
    run.wait(3.1);
    run.wait(1.0);
    run.play(VerdictKind::right);
    const auto after = run.runner.progress().answers.back().tries;
    REQUIRE(after.size() == 2);
    CHECK(after[0].sound_at_s == kNotInSound);
    CHECK(after[1].sound_at_s == doctest::Approx(run.now().stream_s - 0.2 - run.runner.sound_from_s(1)));
    CHECK(after[1].sound_at_s < 1.0);
}

TEST_CASE("The first beat of a walked part is laid where its click is heard, and each beat's sound begins half a count before it") {
    Quiz quiz = four();
    quiz.parts.front().what = ChartAsked{"| F7 |\n", "", 120.0};
    Run run(quiz);
    run.runner.start(run.now());
    run.wait(3.02);
    const double first_s = run.runner.walk_beats().front().at_s + 0.08;
    run.runner.lay_first_beat(first_s);
    for (std::size_t i = 0; i < 4; ++i) {
        CHECK(run.runner.sound_from_s(i) == doctest::Approx(first_s + 0.5 * static_cast<double>(i) - 0.25));
        BeatResult beat;
        beat.index = i;
        beat.any_strum = true;
        beat.verdict.kind = VerdictKind::right;
        beat.verdict.onset_s = first_s + 0.5 * static_cast<double>(i) + 0.01;
        run.runner.hear_beat(beat, run.now());
        CHECK(run.runner.progress().answers.back().tries.front().sound_at_s == doctest::Approx(0.26));
    }
}
