// Parts of a quiz that need an output: questions by ear, and lines walked with a click.
#include <doctest/doctest.h>

#include "formats/quiz_result_json.h"
#include "listen/recording.h"
#include "support/temp_folder.h"
#include "ui/quiz_run.h"

using namespace gripline;
using test::QuizRun;

namespace {

Quiz by_ear() {
    Quiz quiz = test::grips_quiz();
    quiz.question_time_s = 12.0;
    quiz.parts.front().asking = Asking::by_ear;
    return quiz;
}

Quiz walked(double tempo_bpm) {
    Quiz quiz;
    quiz.parts.emplace_back().what = ChartAsked{"key: F\n| F7 | Bb7 |\n", "", tempo_bpm};
    return quiz;
}

/// Onset of the first strum in a file.
double onset_in(const std::string& path) {
    double out = -1.0;
    const auto heard = hear_recording(path, {}, [&](const dsp::StrumEvidence& evidence) {
        out = evidence.onset_s;
        return false;
    });
    CHECK(heard.ok());
    return out;
}

}  // namespace

TEST_CASE("Questions by ear: without an output the sound check does not let the quiz begin, and says why") {
    const test::TempFolder folder;
    QuizRun run(folder / "run", by_ear());
    run.sound.output_ = false;
    run.open();
    run.check();
    run.wait(3.0);
    CHECK_FALSE(run.play->begun());
    CHECK(run.picture().find("This quiz has questions by ear, and nothing can be heard: there is no output.") != std::string::npos);
    run.press('h');
    CHECK(run.picture().find("there is no output") != std::string::npos);
    run.sound.output_ = true;  // headphones are plugged in
    run.wait(3.2);
    CHECK(run.play->runner().state() == QuizState::asking);
    CHECK(run.picture().find("Play what you hear.") != std::string::npos);
    QuizRun named(folder / "named", test::grips_quiz());
    named.sound.output_ = false;
    named.open();
    named.check();
    CHECK(named.play->runner().state() == QuizState::asking);  // nothing to hear in it
}

TEST_CASE("The output tried in the sound check is no strum of the student's") {
    const test::TempFolder folder;
    QuizRun run(folder / "run", by_ear());
    run.open();
    run.wait(2.5);
    for (int i = 0; i < 3; ++i) {
        run.press('h');
        run.press('p');  // as the microphone hears it
        run.wait(1.2);
    }
    CHECK(run.picture().find("0 of 3") != std::string::npos);
}

TEST_CASE("An output that is lost in a question by ear stops its clock; when it is back the question sounds again") {
    const test::TempFolder folder;
    QuizRun run(folder / "run", by_ear());
    run.open();
    run.check();
    run.wait(4.0);
    const double left_s = run.play->runner().question_left_s();
    run.sound.output_ = false;
    run.wait(20.0);
    CHECK(run.picture().find("can't be heard: the clock stands still") != std::string::npos);
    CHECK(run.play->runner().question_left_s() == doctest::Approx(left_s).epsilon(0.01));
    run.sound.output_ = true;
    run.wait(3.05 + 1.6);  // the count-down, and the sound of the question
    REQUIRE(run.play->runner().state() == QuizState::asking);
    CHECK(run.play->runner().question_left_s() > left_s - 0.2);
    run.wait(0.5);
    run.press('p');
    run.wait(0.8);
    CHECK(run.play->runner().progress().answers.size() == 1);
}

TEST_CASE("A line is walked with a count-in and clicks; who plays with the clicks as they are heard is in time, and each beat's sound is its own") {
    const test::TempFolder folder;
    QuizRun run(folder / "run", walked(90.0));
    run.open();
    run.check();
    REQUIRE(run.play->runner().state() == QuizState::walking);
    run.wait(0.3);
    const auto clicks = run.sound.clicks_;
    REQUIRE(clicks.size() == 12);  // a bar of count-in, two of music
    for (std::size_t i = 0; i < clicks.size(); ++i) {
        CHECK(clicks[i].at_s == doctest::Approx(60.0 / 90.0 * static_cast<double>(i)));
        CHECK(clicks[i].accent == (i % 4 == 0));
    }
    const double origin_s = run.sound.clicks_from_s_;
    const auto steps = run.play->runner().questions();
    for (std::size_t i = 0; i < steps.size(); ++i) {
        run.wait_until_stream(origin_s + clicks[i + 4].at_s);
        CHECK(run.picture().find("Bar " + std::to_string(i / 4 + 1) + ", beat " + std::to_string(i % 4 + 1) + ".") != std::string::npos);  // what is played now, not what was judged last
        CHECK(run.picture().find("question " + std::to_string(i + 1) + " of 8") != std::string::npos);
        CHECK((run.picture().find("Next: ") != std::string::npos) == (i < 7));
        if (i == 5) continue;  // left out
        run.sound.strum(steps[i].step, i == 2 ? std::optional(PlannedFault{PlannedFaultKind::wrong_note, StringNumber(3), -1}) : std::nullopt);
    }
    run.wait(3.0);
    REQUIRE(run.play->runner().state() == QuizState::over);
    CHECK(run.sound.clicks_.empty());
    const auto result = load_quiz_result(folder / "run");
    REQUIRE_MESSAGE(result.ok(), (result.ok() ? "" : result.error().message));
    for (std::size_t i = 0; i < steps.size(); ++i) {
        CAPTURE(i);
        const QuizAnswer& answer = result->answers[i];
        CHECK(answer.outcome == (i == 5 ? QuizOutcome::unheard : i == 2 ? QuizOutcome::wrong : QuizOutcome::right));
        if (i == 5) continue;
        CHECK(std::abs(answer.tries.front().answer_s) < 0.03);  // played with the click as it was heard
        CHECK(std::abs(onset_in((folder / "run/") + answer.sound.file) - answer.tries.front().sound_at_s) < 0.02);
    }
}

TEST_CASE("A walk without an output counts on the screen alone, and says so") {
    const test::TempFolder folder;
    QuizRun run(folder / "run", walked(90.0));
    run.sound.output_ = false;
    run.open();
    run.check();
    REQUIRE(run.play->runner().state() == QuizState::walking);
    CHECK(run.picture().find("No click: there is no output. The count is on the screen.") != std::string::npos);
    CHECK(run.picture().find("Count-in: ") != std::string::npos);
    const auto beats = run.play->runner().walk_beats();
    run.wait_until_stream(beats.front().at_s);
    run.press('p');
    run.wait(0.6);
    REQUIRE_FALSE(run.play->runner().progress().answers.empty());
    CHECK(run.play->runner().progress().answers.front().outcome == QuizOutcome::right);
    CHECK(std::abs(run.play->runner().progress().answers.front().tries.front().answer_s) < 0.03);
}
