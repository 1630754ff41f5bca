// The warm-up on the practice screen: easy grips, slowly, then what was asked for; kept apart from what is drilled.
#include <doctest/doctest.h>

#include "ui/golden.h"
#include "ui/played_practice.h"

using namespace gripline;

namespace {

PracticeRunConfig warming(Asking asking = Asking::shown, bool planned = true) {
    PracticeRunConfig config;
    config.plan.planned = planned;
    config.plan.asking = asking;
    config.plan.warm_up = 2;
    config.plan.steps = 2;
    config.plan.wall_ms = [] { return std::int64_t{1'780'000'000'000}; };
    return config;
}

void play_right(test::PlayedPractice& practice, double seconds) {
    practice.key('p');
    practice.pass(seconds);
}

}  // namespace

TEST_CASE("A warm-up shows easy grips, at half the pace, says so with the caution for hands, and practice begins by itself") {
    for (const Asking asking : {Asking::shown, Asking::named, Asking::by_ear, Asking::next_step}) {
        for (const bool planned : {true, false}) {
            CAPTURE(word(asking));
            CAPTURE(planned);
            test::PlayedPractice practice(warming(asking, planned));
            CHECK(practice.shows("Warm-up, strings 6-4-3"));
            CHECK(practice.shows("warm-up 1 of 2"));
            CHECK(practice.shows("Slowly and softly, to warm up. At pain stop;"));
            CHECK(practice.shows(practice.run.session().asked()->grip.text()));
            CHECK(practice.sound.rows_.empty());
            play_right(practice, 2.0);
            CHECK(practice.shows("warm-up 1 of 2"));  // the right answer stays twice as long
            practice.pass(1.0);
            CHECK(practice.shows("warm-up 2 of 2"));
            play_right(practice, 1.0);
            CHECK(practice.shows("Next: practice begins."));
            practice.pass(2.0);
            CHECK_FALSE(practice.shows("Warm-up"));
            CHECK(practice.run.session().asked()->asked.asking == asking);
            if (planned) {
                CHECK(practice.shows("step 1"));
                CHECK(practice.shows(", planned"));
            }
        }
    }
}

TEST_CASE("Warming up is no part of the session's steps, nor of its rates, and its summary says that it was done") {
    test::PlayedPractice practice(warming());
    practice.key('m');
    practice.pass(5.0);
    for (int i = 0; i < 2; ++i) play_right(practice, 3.2);
    CHECK(practice.shows("step 1"));
    for (int i = 0; i < 2; ++i) play_right(practice, 2.0);
    CHECK(practice.shows("The session is over"));
    CHECK(practice.run.summary(60.0)[0] == "1 minute, 2 steps after 2 to warm up; right at the first try: 2 of 2.");
    CHECK(practice.run.summary(60.0)[1] == "All answers: right 2, wrong 0, unheard 0.");
}

TEST_CASE("A session of fewer steps than its warm-up still has all its steps") {
    auto config = warming();
    config.plan.warm_up = 3;
    config.plan.steps = 1;
    test::PlayedPractice practice(config);
    for (int i = 0; i < 3; ++i) {
        CHECK_FALSE(practice.shows("The session is over"));
        play_right(practice, 3.2);
    }
    CHECK(practice.shows(", planned"));
    play_right(practice, 2.0);
    CHECK(practice.shows("The session is over"));
    CHECK(practice.run.summary(60.0)[0] == "1 minute, 1 step after 3 to warm up; right at the first try: 1 of 1.");
}

TEST_CASE("A step of the warm-up can be left out, and a key for another course ends it") {
    test::PlayedPractice practice(warming());
    practice.key('n');
    practice.pass(0.2);
    CHECK(practice.shows("warm-up 2 of 2"));
    practice.key('n');
    practice.pass(0.2);
    CHECK(practice.shows(", planned"));
    test::PlayedPractice other(warming());
    other.key('r');
    other.pass(0.2);
    CHECK_FALSE(other.shows("Warm-up"));
    CHECK(other.shows("step 1 of"));
}

TEST_CASE("The warm-up at three sizes") {
    test::PlayedPractice practice(warming());
    test::check_three_sizes("practice-warm-up", CharacterSet::utf8, "", [&](Canvas& canvas) { practice.run.draw(canvas, practice.sound.now_s()); });
}
