// The quiz screen at work on the built-in player and the real listening chain, in a clock that the test moves.
#include <doctest/doctest.h>

#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <fstream>
#include <span>

#include "audio/file_source.h"
#include "formats/quiz_result_json.h"
#include "support/temp_folder.h"
#include "ui/quiz_run.h"

using namespace gripline;

namespace {

constexpr std::int64_t kStart_ms = test::kQuizStart_ms;

Quiz quiz_of(int tries = 1) {
    Quiz quiz = test::grips_quiz();
    quiz.tries = tries;
    quiz.question_time_s = 12.0;
    quiz.may_pause = true;
    return quiz;
}

struct Play : test::QuizRun {
    explicit Play(const std::filesystem::path& folder, const Quiz& quiz = quiz_of(), std::int64_t start_ms = kStart_ms) : QuizRun(folder, quiz, start_ms) {}
};

/// The result in the run's folder, which must be there.
QuizResult result_in(const test::TempFolder& folder) {
    auto result = load_quiz_result(folder / "run");
    REQUIRE_MESSAGE(result.ok(), (result.ok() ? "" : result.error().message));
    return *result;
}

}  // namespace

TEST_CASE("A quiz on the built-in player: sound check, answers, mark, result and sounds that can be heard again") {
    const test::TempFolder folder;
    Play run(folder / "run");
    run.open();
    CHECK(run.picture().find("Be still") != std::string::npos);
    run.check();
    REQUIRE(run.play->runner().state() == QuizState::asking);
    CHECK(run.picture().find("question 1 of 4") != std::string::npos);
    std::vector<double> pressed_s;
    for (const char key : {'p', 'm', 'p', 'p'}) {
        run.wait(1.0);
        pressed_s.push_back(12.0 - run.play->runner().question_left_s());
        run.press(key);
        run.wait(2.0);
    }
    REQUIRE(run.play->runner().state() == QuizState::over);
    CHECK(run.picture().find("3 of 4 right, 75 per cent: passed") != std::string::npos);
    const QuizResult result = result_in(folder);
    CHECK(result.student == "Student <one>");
    CHECK(result.answers[1].outcome == QuizOutcome::wrong);
    CHECK(result.facts.noise_db < -50.0);
    CHECK(std::abs(result.facts.clock_off_s) < 0.01);
    CHECK_FALSE(std::filesystem::exists(folder / "run/journal.jsonl"));
    for (const QuizAnswer& answer : result.answers) {
        const auto sound = FileSource::open((folder / "run/") + answer.sound.file);
        REQUIRE(sound.ok());
        CHECK((*sound)->length_s() > 1.5);  // a second of waiting, and the strum
    }
    // The player strums within a hop or two of the key (20 ms are allowed for the onset).
    for (std::size_t i = 0; i < 4; ++i) CHECK(std::abs(result.answers[i].tries.front().answer_s - pressed_s[i]) < 0.03);
    const std::string page = run.picture();
    CHECK(page.find("Hand-in code ") != std::string::npos);
    run.press('q');
    CHECK(run.play->over());
}

TEST_CASE("After a long sound check, too, the sound of each answer holds its strum where the result says") {
    const test::TempFolder folder;
    Play run(folder / "run");
    run.open();
    run.wait(12.0);
    run.check();
    REQUIRE(run.play->runner().state() == QuizState::asking);
    for (int i = 0; i < 4; ++i) {
        run.wait(1.3);
        run.press('p');
        run.wait(2.0);
    }
    const QuizResult result = result_in(folder);
    for (const QuizAnswer& answer : result.answers) {
        REQUIRE(answer.tries.size() == 1);
        CHECK(answer.tries.front().sound_at_s > 0.5);
        const auto sound = FileSource::open((folder / "run/") + answer.sound.file);
        REQUIRE_MESSAGE(sound.ok(), (sound.ok() ? "" : sound.error().message));
        std::vector<float> frames(static_cast<std::size_t>((*sound)->rate_hz()) * 10);
        std::size_t got = 0;
        for (std::size_t now = 1; now > 0; got += now) now = (*sound)->read(std::span(frames).subspan(got));
        frames.resize(got);
        const auto power = [&](double from_s, double to_s) {
            double sum = 0.0;
            for (auto i = static_cast<std::size_t>(from_s * (*sound)->rate_hz()); i < static_cast<std::size_t>(to_s * (*sound)->rate_hz()); ++i) sum += frames.at(i) * frames.at(i);
            return sum;
        };
        const double at_s = answer.tries.front().sound_at_s;
        CHECK(power(at_s - 0.02, at_s + 0.18) > 10.0 * power(at_s - 0.24, at_s - 0.04));
    }
}

TEST_CASE("Where the sound of an answer is not kept, no place in it is named") {
    const test::TempFolder folder;
    Play run(folder / "run");
    run.open();
    run.check();
    std::filesystem::create_directories(folder / "run/answer-001.flac.new");  // in the way of whatever is written there first
    std::filesystem::create_directories(folder / "run/answer-002.flac");
    for (int i = 0; i < 4; ++i) {
        run.press('p');
        run.wait(2.0);
    }
    const QuizResult result = result_in(folder);
    for (const QuizAnswer& answer : result.answers) {
        REQUIRE(answer.tries.size() == 1);
        CHECK((answer.tries.front().sound_at_s == kNotInSound) == answer.sound.file.empty());
    }
    CHECK(result.answers[0].sound.file.empty());
    CHECK(result.answers[1].sound.file.empty());
    CHECK_FALSE(result.answers[3].sound.file.empty());
}

TEST_CASE("A strum while the room is listened to does not spoil the sound check") {
    const test::TempFolder folder;
    Play run(folder / "run");
    run.open();
    run.wait(0.8);
    run.press('p');
    run.wait(7.0);
    CHECK(run.picture().find("0 of 3") != std::string::npos);
    for (int i = 0; i < 3; ++i) {
        run.press('p');
        run.wait(1.2);
    }
    run.wait(3.1);
    CHECK(run.play->runner().state() == QuizState::asking);
}

TEST_CASE("An input that is silent does not start the quiz") {
    const test::TempFolder folder;
    Play run(folder / "run");
    run.open();
    run.sound.input_.silent = true;
    run.wait(20.0);
    CHECK(run.picture().find("No signal: if that stays") != std::string::npos);
    CHECK_FALSE(run.play->begun());
    CHECK_FALSE(std::filesystem::exists(folder / "run"));
}

TEST_CASE("A lost device stops the clock and is written down; the run goes on when it is back") {
    const test::TempFolder folder;
    Play run(folder / "run");
    run.open();
    run.check();
    run.wait(2.0);
    const double left_s = run.play->runner().question_left_s();
    run.sound.input_.source = SourceState::lost;
    run.wait(10.0);
    CHECK(run.play->runner().question_left_s() == doctest::Approx(left_s).epsilon(0.01));
    CHECK(run.picture().find("the clock stands still") != std::string::npos);
    run.sound.input_.source = SourceState::running;
    run.wait(3.1);
    CHECK(run.play->runner().state() == QuizState::asking);
    run.press('q');
    run.press('y');
    const auto result = load_quiz_result(folder / "run");
    REQUIRE(result.ok());
    CHECK(result->ending == QuizEnding::handed_in);
    REQUIRE(result->breaks.size() == 1);
    CHECK(result->breaks.front().reason == "input lost");
    CHECK(result->breaks.front().away_s == doctest::Approx(10.0).epsilon(0.02));
    CHECK(result->answers[0].outcome == QuizOutcome::not_reached);
}

TEST_CASE("Interrupted by SIGKILL at any question, before, in and after its strum: resumed with nothing lost and the clock right") {
    for (int question = 0; question < 4; ++question) {
        for (const double strum_at_s : {9.0, 1.0, 0.55}) {  // killed 1.5 s after the asking: before the strum, 0.5 s after, in the next question's time
            CAPTURE(question);
            CAPTURE(strum_at_s);
            const test::TempFolder folder;
            const pid_t child = fork();
            REQUIRE(child >= 0);
            if (child == 0) {
                Play run(folder / "run");
                run.open();
                run.check();
                for (int i = 0; i < question; ++i) {
                    run.press(i % 2 == 0 ? 'p' : 'm');
                    run.wait(1.6);
                }
                // The clock of the question that is killed in.
                const double asked_s = run.sound.now_s();
                bool strummed = false;
                run.sound.advance(1.5, [&](double now_s) {
                    if (!strummed && now_s - asked_s >= strum_at_s) {
                        run.press('p');
                        strummed = true;
                    }
                    run.play->listen(now_s);
                });
                std::ofstream(folder / "truth") << run.play->runner().progress().answers.size() << ' ' << run.play->runner().question_left_s() << ' ' << run.play->runner().progress().used_s << std::endl;
                std::raise(SIGKILL);
            }
            int status = 0;
            REQUIRE(waitpid(child, &status, 0) == child);
            REQUIRE((WIFSIGNALED(status) && WTERMSIG(status) == SIGKILL));
            std::size_t answers = 0;
            double left_s = 0.0, used_s = 0.0;
            std::ifstream(folder / "truth") >> answers >> left_s >> used_s;
            Play run(folder / "run", quiz_of(), kStart_ms + 3'600'000);
            run.resume();
            run.open();
            CHECK(run.play->runner().progress().answers.size() == answers);
            CHECK(std::abs(run.play->runner().progress().used_s - used_s) < 0.3);
            if (answers < 4) {
                CHECK(std::abs(run.play->runner().question_left_s() - left_s) < 0.3);  // ticks come four times a second
                run.check();
                CHECK(run.play->runner().state() == QuizState::asking);
            }
            while (run.play->runner().state() != QuizState::over) {
                run.press('p');
                run.wait(1.6);
            }
            const auto result = load_quiz_result(folder / "run");
            REQUIRE_MESSAGE(result.ok(), (result.ok() ? "" : result.error().message));
            CHECK(result->answers.size() == 4);
            for (int i = 0; i < 4; ++i) CHECK(result->answers[static_cast<std::size_t>(i)].outcome == (i < question && i % 2 == 1 ? QuizOutcome::wrong : QuizOutcome::right));
            REQUIRE(result->breaks.size() == 1);
            CHECK(result->breaks.front().reason == "program stopped");
            CHECK(result->breaks.front().away_s > 3500.0);
        }
    }
}

TEST_CASE("Pictures of every size are drawn, and what to do is there from 20 x 4 on") {
    const test::TempFolder folder;
    Play run(folder / "run");
    run.open();
    run.check();
    for (const CharacterSet characters : {CharacterSet::utf8, CharacterSet::ascii}) {
        for (int columns = 0; columns <= 130; columns += 5) {
            for (int rows = 0; rows <= 45; ++rows) {
                Canvas canvas(columns, rows, characters);
                run.play->draw(canvas, run.sound.now_s());
                if (columns >= 20 && rows >= 4) CHECK(canvas.text().find("Play C7") != std::string::npos);
            }
        }
    }
}
