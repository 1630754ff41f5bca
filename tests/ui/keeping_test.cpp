// Practice at work on the built-in player and the real listening chain, with a history: what is kept, what is not, what is said, and what a killed process loses.
#include <doctest/doctest.h>

#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <fstream>
#include <random>

#include "practice/history_file.h"
#include "practice/attempt_fixture.h"
#include "practice/history_totals.h"
#include "support/sweep.h"
#include "support/temp_folder.h"
#include "ui/played_sound.h"
#include "ui/practice_run.h"
#include "ui/quiz_run.h"

using namespace gripline;
using namespace gripline::test;
namespace fs = std::filesystem;

namespace {

KeeperConfig keeper_at(const fs::path& file) {
    KeeperConfig config;
    config.file = file;
    config.player = "player A";
    config.guitar = "archtop";
    config.writer.retry_s = 0.05;
    return config;
}

PracticeRunConfig kept_by(AttemptKeeper& keeper, bool also_player) {
    PracticeRunConfig config;
    config.keeper = &keeper;
    config.keep_player = also_player;
    return config;
}

struct KeptPractice {
    PlayedSound sound;
    PracticeRun run;
    explicit KeptPractice(const PracticeRunConfig& config) : run(config, sound, 0.0) { pass(0.3); }
    void pass(double seconds) {
        sound.advance(seconds, [&](double now_s) { run.listen(now_s); });
    }
    /// What is asked is strummed, on string 3 a fret flat when `wrong`; then the words are read.
    void strum(bool wrong) {
        std::optional<PlannedFault> fault;
        if (wrong) fault = PlannedFault{PlannedFaultKind::wrong_note, StringNumber(3), -1};
        sound.strum(*run.session().asked(), fault);
        pass(wrong ? 5.0 : 2.0);
    }
    [[nodiscard]] bool shows(const std::string& words) const {
        Canvas canvas(80, 24, CharacterSet::ascii);
        run.draw(canvas, sound.now_s());
        return canvas.text().find(words) != std::string::npos;
    }
};

std::vector<Attempt> kept_in(const fs::path& file) {
    std::vector<Attempt> out;
    auto opened = open_history(file);
    REQUIRE_MESSAGE(opened.ok(), opened.error().message);
    REQUIRE(!opened->history->check_whole());
    REQUIRE(opened->history->read({}, [&out](const Attempt& a) { out.push_back(a); return true; }).ok());
    return out;
}

}  // namespace

TEST_CASE("What a guitar plays is kept with all that was asked and heard; of the built-in player only where a history was named") {
    for (const bool live : {true, false}) {
        for (const bool named : {true, false}) {
            CAPTURE(live);
            CAPTURE(named);
            const TempFolder folder;
            const fs::path file = folder.path() / "gripline" / "history.sqlite";
            {
                AttemptKeeper keeper(keeper_at(file));
                KeptPractice practice(kept_by(keeper, named));
                practice.sound.player_is_input_ = !live;
                practice.strum(false);
                practice.strum(true);
                practice.strum(false);
                practice.run.close();
                CHECK(practice.run.session().counts().right == 2);
                CHECK(practice.run.session().counts().wrong == 1);
                CHECK(keeper.close().empty());
            }
            const auto kept = kept_in(file);
            REQUIRE(kept.size() == (live || named ? 3U : 0U));
            if (kept.empty()) continue;
            CHECK(kept[0].verdict == VerdictKind::right);
            CHECK(kept[1].verdict == VerdictKind::wrong);
            REQUIRE(!kept[1].faults.empty());
            CHECK(kept[1].faults.front().string->number() == 3);
            CHECK(kept[1].faults.front().frets == -1);
            CHECK(kept[2].try_number == 2);
            CHECK(kept[1].grip.text() == kept[2].grip.text());
            CHECK(kept[0].player == "player A");
            CHECK(kept[0].guitar == "archtop");
            CHECK(kept[0].input == (live ? "line in (2 in, 48000 Hz)" : "built-in player (no sound card found)"));
            CHECK(kept[0].answer_s.value() < 1.0);
        }
    }
}

TEST_CASE("Where nothing can be written the screen says so in a line, practice goes on, and what waits is kept once it can be") {
    const TempFolder folder;
    const fs::path blocked = folder.path() / "blocked";
    std::ofstream(blocked) << "a file where the folder should be";
    AttemptKeeper keeper(keeper_at(blocked / "history.sqlite"));
    KeptPractice practice(kept_by(keeper, true));
    practice.strum(false);
    keeper.flush();
    CHECK(practice.shows("Not kept now: 1 attempt waits."));
    practice.strum(false);
    CHECK(practice.run.session().counts().right == 2);
    fs::remove(blocked);
    for (int i = 0; i < 200 && keeper.state().waiting > 0; ++i) usleep(10'000);
    CHECK(keeper.state().kept == 2);
    CHECK(!practice.shows("Not kept"));
    CHECK(keeper.close().empty());
    CHECK(kept_in(blocked / "history.sqlite").size() == 2);
}

TEST_CASE("What can't be kept to the end is counted") {
    AttemptKeeper keeper(keeper_at("/proc/gripline/history.sqlite"));
    KeptPractice practice(kept_by(keeper, true));
    practice.strum(false);
    CHECK(keeper.close().starts_with("1 attempt was not kept: "));
}

TEST_CASE("Practice killed at 200 random moments: nothing lost but the attempt in hand, the file sound each time") {
    constexpr int kKills = test::kSanitized ? 20 : 200;
    const TempFolder folder;
    const fs::path file = folder.path() / "gripline" / "history.sqlite";
    std::mt19937 random(20261125);
    std::size_t before = 0, said_in_all = 0;
    for (int round = 0; round < kKills; ++round) {
        CAPTURE(round);
        const unsigned seed = random();
        int ends[2];
        REQUIRE(pipe(ends) == 0);
        const pid_t child = fork();
        REQUIRE(child >= 0);
        if (child == 0) {  // practises for ever, and says 'k' whenever the last verdict is kept
            std::mt19937 own(seed);
            AttemptKeeper keeper(keeper_at(file));
            KeptPractice practice(kept_by(keeper, true));
            for (;;) {
                practice.strum(own() % 3 == 0);
                keeper.flush();
                if (write(ends[1], "k", 1) != 1) _exit(1);
            }
        }
        close(ends[1]);
        char word = 0;
        std::size_t said = 0;
        if (round % 2 == 0 && read(ends[0], &word, 1) == 1) ++said;
        usleep(static_cast<useconds_t>(random() % 40'000));
        kill(child, SIGKILL);
        int status = 0;
        waitpid(child, &status, 0);
        CHECK(WIFSIGNALED(status));
        while (read(ends[0], &word, 1) == 1) ++said;
        close(ends[0]);
        const std::size_t now = kept_in(file).size();
        CHECK(now >= before + said);
        CHECK(now <= before + said + 1);  // kept, but not said yet
        said_in_all += said;
        before = now;
    }
    CHECK(before >= kKills / 2);
    MESSAGE(before << " attempts kept, " << said_in_all << " said to be kept, over " << kKills << " kills");
}

TEST_CASE("Each answer of a quiz is an attempt under the run's own ids, so that a run which goes on makes no doubles") {
    const TempFolder folder;
    const fs::path file = folder.path() / "history.sqlite";
    Quiz quiz = grips_quiz();
    quiz.tries = 2;
    quiz.question_time_s = 12.0;
    for (int time = 0; time < 2; ++time) {
        QuizRun run(folder.path() / ("run" + std::to_string(time)), quiz, kNovember_ms);
        AttemptKeeper keeper(keeper_at(file));
        run.config.keeper = &keeper;
        run.config.keep_player = true;
        run.open();
        run.check();
        for (const char key : {'p', 'm', 'p', 'p', 'p'}) {
            run.wait(1.0);
            run.press(key);
            run.wait(2.0);
        }
        REQUIRE(run.play->runner().state() == QuizState::over);
        CHECK(keeper.close().empty());
        const auto kept = kept_in(file);
        REQUIRE(kept.size() == 5);  // the same run again: known ids
        CHECK(kept[1].verdict == VerdictKind::wrong);
        CHECK(kept[2].verdict == VerdictKind::right);
        CHECK(kept[2].try_number == 2);
        CHECK(kept[2].grip.text() == kept[1].grip.text());
        for (std::size_t i = 0; i < kept.size(); ++i) {
            CHECK(kept[i].asking == run.play->runner().questions()[i < 2 ? i : i - 1].asking);
            CHECK(kept[i].answer_s.value() >= 0.9);
        }
    }
}
