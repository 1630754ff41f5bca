// Pictures of a led practice at three sizes, and its tones; the built-in player plays, the clock stands still until it is moved.
#include <doctest/doctest.h>

#include "ui/golden.h"
#include "ui/played_practice.h"

using namespace gripline;

namespace {

PracticeRunConfig led_config() {
    PracticeRunConfig config;
    config.plan.planned = true;
    config.plan.pins.key = PitchClass(0);
    config.plan.pins.qualities = {"7"};
    config.plan.wall_ms = [] { return std::int64_t{1'790'000'000'000}; };
    return config;
}

struct LedPractice : test::PlayedPractice {
    using PlayedPractice::PlayedPractice;
    void right() {
        sound.strum(*run.session().asked(), std::nullopt);
        pass(2.0);
    }
    void pictures(const std::string& name) {
        sound.input_.level_db = -48.0;  // the meter stands still
        test::check_three_sizes(name, CharacterSet::utf8, "", [&](Canvas& canvas) { run.draw(canvas, sound.now_s()); });
    }
};

}  // namespace

TEST_CASE("Pictures of a planned step and of the session's end") {
    auto config = led_config();
    config.plan.steps = 3;
    LedPractice practice(config);
    practice.pictures("practice-planned");
    for (int i = 0; i < 3; ++i) practice.right();
    practice.pass(0.2);
    practice.pictures("practice-over");
}

TEST_CASE("Pictures of a grip asked by name, and of it shown after the second miss") {
    auto config = led_config();
    config.plan.asking = Asking::named;
    LedPractice practice(config);
    practice.pictures("practice-named");
    for (int miss = 0; miss < 2; ++miss) {
        practice.key('m');
        practice.pass(5.0);
    }
    practice.pictures("practice-shown-after-misses");
}

TEST_CASE("Pictures of a suggested break, which is suggested again after as long") {
    auto config = led_config();
    config.plan.break_after_min = 1.0;
    LedPractice practice(config);
    practice.pass(60.5);
    practice.pictures("practice-break");
    CHECK(practice.run.notice(practice.sound.now_s()).find("A break is due") == 0);
    practice.pass(50.0);
    CHECK(practice.run.notice(practice.sound.now_s()).empty());
    practice.pass(11.0);
    CHECK(practice.run.notice(practice.sound.now_s()).find("A break is due") == 0);
}

TEST_CASE("Tones tell right and wrong where they are wanted, and nothing sounds where they are not") {
    for (const bool wanted : {true, false}) {
        auto config = led_config();
        config.plan.tones = wanted;
        LedPractice practice(config);
        practice.right();
        practice.key('m');
        practice.pass(5.0);
        REQUIRE(practice.run.session().counts().wrong == 1);
        CHECK(practice.sound.answers_ == (wanted ? std::vector<bool>{true, false} : std::vector<bool>{}));
    }
}
