// Into the target on the practice screen: count-in, both strums through the real listening chain, their time.
#include <doctest/doctest.h>

#include "practice/exercise_asking.h"
#include "ui/golden.h"
#include "ui/played_practice.h"

using namespace gripline;

namespace {

PracticeRunConfig into_target(bool planned = false) {
    PracticeRunConfig config;
    config.plan.asking = Asking::into_target;
    config.plan.planned = planned;
    config.plan.wall_ms = [] { return std::int64_t{1'780'000'000'000}; };
    return config;
}

struct Pairs : test::PlayedPractice {
    explicit Pairs(const PracticeRunConfig& config = into_target()) : PlayedPractice(config) {}
    /// Stream time of a count, as its click is heard.
    [[nodiscard]] double count_s(int count) const { return sound.clicks_from_s_ + sound.clicks_.at(static_cast<std::size_t>(count)).at_s; }
    void to_count(int count, double off_s = 0.0) {
        const double at_s = count_s(count) + off_s;
        while (sound.input().stream_s < at_s) pass(0.01);
    }
    /// The player strums both, so much off their counts.
    void play(double approach_off_s, double target_off_s, const std::optional<PlannedFault>& fault = {}) {
        const PracticeStep approach = *run.session().asked();
        to_count(kApproachCount, approach_off_s);
        sound.strum(approach, fault);
        to_count(kTargetCount, target_off_s);
        sound.strum(*approach.given, {});
        pass(1.0);
    }
    void golden(const std::string& name) const {
        test::check_three_sizes(name, CharacterSet::utf8, "", [&](Canvas& canvas) { run.draw(canvas, sound.now_s()); });
    }
};

}  // namespace

TEST_CASE("A count-in of a bar and three counts, click by click at the tempo, then approach and target") {
    Pairs pairs;
    REQUIRE(pairs.sound.clicks_.size() == 9);
    CHECK(pairs.sound.clicks_[8].at_s == doctest::Approx(8 * 0.6));
    CHECK(pairs.sound.clicks_[0].accent);
    CHECK(!pairs.sound.clicks_[7].accent);
    CHECK(pairs.sound.clicks_[8].accent);
    CHECK(pairs.shows("In time from below into C7, bass G."));
    CHECK(pairs.shows("3x23xx"));        // the target
    CHECK(!pairs.shows("2x12xx"));       // the approach is found
    pairs.to_count(5, 0.1);
    CHECK(pairs.shows("1 2 3 4 | 1 [2] 3 approach | target"));
    CHECK(pairs.shows("Bar 2: 2"));
    pairs.golden("practice-into-target");
}

TEST_CASE("Right in notes and time goes on to the next by itself") {
    Pairs pairs;
    pairs.play(0.0, 0.0);
    CHECK(pairs.shows("Right and in time"));
    CHECK(pairs.run.session().counts().right == 1);
    pairs.golden("practice-into-target-right");
    pairs.pass(1.5);
    CHECK(pairs.sound.clicks_.size() == 9);  // counted in again
    CHECK(pairs.run.session().steps_done() == 1);
}

TEST_CASE("Late, wrong, or left out is told for each strum, and counted in again") {
    Pairs pairs;
    pairs.play(0.0, 0.12);
    CHECK(pairs.shows("Target: right notes, not in time, 1"));
    CHECK(pairs.run.session().counts().wrong == 1);
    pairs.golden("practice-into-target-late");
    pairs.pass(4.2);
    REQUIRE(pairs.sound.clicks_.size() == 9);
    CHECK(pairs.shows("Last time: Target"));
    pairs.play(0.0, 0.0, PlannedFault{PlannedFaultKind::wrong_note, StringNumber(3), -1});
    CHECK(pairs.shows("one fret flat"));
    CHECK(pairs.shows("Target: right notes"));
    pairs.pass(4.2);
    pairs.to_count(kTargetCount);
    pairs.pass(1.2);
    CHECK(pairs.shows("No strum heard near the counts."));
    CHECK(pairs.run.session().counts().unheard == 1);
}

TEST_CASE("The times told are those played, to 10 ms, at 60 and 200 counts a minute") {
    for (const double tempo_bpm : {60.0, 200.0}) {
        CAPTURE(tempo_bpm);
        auto config = into_target();
        config.plan.tempo_bpm = tempo_bpm;
        Pairs pairs(config);
        pairs.play(-0.02, 0.03);
        REQUIRE(pairs.run.session().pair());
        CHECK(pairs.run.session().pair()->approach.off_ms.value() == doctest::Approx(-15.0).epsilon(0.7));  // a hop of 10 ms before the strum is told
        CHECK(pairs.run.session().pair()->target.off_ms.value() == doctest::Approx(35.0).epsilon(0.3));
    }
}

TEST_CASE("Without an output the counts are on the screen alone, and both strums are judged all the same") {
    auto config = into_target();
    Pairs pairs(config);
    pairs.sound.output_ = false;
    pairs.key('n');
    pairs.pass(0.2);
    CHECK(pairs.shows("no output: counts on the screen alone"));
    pairs.key('p');
    pairs.pass(6.5);
    CHECK(pairs.run.session().counts().right == 1);
}

TEST_CASE("The built-in player plays both on their counts, and pause, tempo and pages count in anew") {
    Pairs pairs;
    pairs.key('p');
    pairs.pass(6.2);
    CHECK(pairs.run.session().counts().right == 1);
    pairs.pass(1.0);
    pairs.key('+');
    pairs.pass(0.2);
    CHECK(pairs.shows("Tempo 105 counts a minute."));
    CHECK(pairs.sound.clicks_.at(8).at_s == doctest::Approx(8 * 60.0 / 105.0));
    pairs.key(' ');
    pairs.pass(0.1);
    CHECK(pairs.sound.clicks_.empty());
    pairs.key(' ');
    pairs.pass(0.1);
    CHECK(!pairs.sound.clicks_.empty());
    pairs.key('u');
    CHECK(pairs.sound.clicks_.empty());
    pairs.key('u');
    pairs.pass(0.3);
    CHECK(!pairs.sound.clicks_.empty());
    pairs.key('m');
    pairs.pass(6.5);
    CHECK(pairs.run.session().counts().wrong == 1);
}

TEST_CASE("Planned: approaches from all scales, each with its reason, and the session ends after its steps") {
    auto config = into_target(true);
    config.plan.steps = 2;
    config.plan.tempo_bpm = 200.0;
    Pairs pairs(config);
    CHECK(pairs.shows("Why this: new"));
    CHECK(pairs.shows(", planned"));
    for (int i = 0; i < 2; ++i) {
        pairs.key('p');
        pairs.pass(5.0);
    }
    CHECK(pairs.run.session().counts().right == 2);
    CHECK(pairs.shows("The session is over"));
}

TEST_CASE("Single notes have no approach chord") {
    auto config = into_target();
    config.course.stage = StageKind::scale;
    config.course.strings = string_sets(StageKind::scale, 6).front();
    Pairs pairs(config);
    CHECK(pairs.shows("a single note has no approach chord"));
}

TEST_CASE("A delay that was not measured for these devices is told, with what measures it; without clicks there is none to tell of") {
    struct Uncertain : Pairs {
        explicit Uncertain(bool output) {
            sound.output_ = output;
            sound.delay_known_ = false;
            key('n');
            pass(0.3);
        }
    };
    Uncertain pairs(true);
    CHECK(pairs.shows("gripline calibrate measures it."));
    CHECK(pairs.shows("Delay not measured, times not certain: gripline calibrate."));
    pairs.golden("practice-into-target-unmeasured");
    pairs.pass(12.1);
    CHECK_FALSE(pairs.shows("gripline calibrate measures it."));
    CHECK(pairs.shows("Delay not measured"));
    const Uncertain silent(false);
    CHECK_FALSE(silent.shows("calibrate"));
    CHECK_FALSE(Pairs().shows("calibrate"));
}
