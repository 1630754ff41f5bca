#include <doctest/doctest.h>

#include "ui/played_practice.h"

using namespace gripline;

namespace {

struct Led : test::PlayedPractice {
    explicit Led(const PracticePlan& plan) : PlayedPractice(config_of(plan)) {}
    static PracticeRunConfig config_of(const PracticePlan& plan) {
        PracticeRunConfig config;
        config.plan = plan;
        return config;
    }
};

PracticePlan planned(Asking asking = Asking::shown) {
    PracticePlan plan;
    plan.planned = true;
    plan.asking = asking;
    plan.wall_ms = [] { return std::int64_t{1'780'000'000'000}; };
    return plan;
}

}  // namespace

TEST_CASE("A planned session says why it asks, goes on by itself, and ends after its steps with five lines") {
    PracticePlan plan = planned();
    plan.steps = 4;
    Led led(plan);
    CHECK(led.shows(", planned"));
    CHECK(led.shows("Why this: new"));
    std::string last;
    for (int i = 0; i < 4; ++i) {
        CHECK(led.run.session().asked()->grip.text() != last);
        last = led.run.session().asked()->grip.text();
        led.key('p');
        led.pass(2.2);
    }
    CHECK(led.run.session().counts().right == 4);
    CHECK(led.shows("The session is over"));
    CHECK(led.shows("4 steps; right at the first try: 4 of 4."));
    CHECK(!led.run.over());
    led.key(' ');
    CHECK(led.run.over());
}

TEST_CASE("A session of minutes ends by the clock, also when nobody plays") {
    PracticePlan plan = planned();
    plan.minutes = 0.1;
    Led led(plan);
    led.pass(5.0);
    CHECK(!led.shows("The session is over"));
    led.pass(1.5);
    CHECK(led.shows("The session is over"));
}

TEST_CASE("A named grip is hidden until the second miss, and its right answer then counts as helped") {
    Led led(planned(Asking::named));
    const std::string grip = led.run.session().asked()->grip.text();
    CHECK(led.shows("from memory"));
    CHECK(!led.shows(grip));
    led.key('m');
    led.pass(4.0);
    REQUIRE(led.run.session().counts().wrong == 1);
    CHECK(!led.shows(grip));
    led.key('m');
    led.pass(4.0);
    REQUIRE(led.run.session().counts().wrong == 2);
    CHECK(led.shows(grip));
}

TEST_CASE("By ear neither chord nor bass nor grip can be read, and without an output that is said") {
    Led led(planned(Asking::by_ear));
    const PracticeStep& asked = *led.run.session().asked();
    CHECK(led.shows("Listen, then play it."));
    CHECK(!led.shows(asked.grip.text()));
    CHECK(!led.shows(asked.chord + " with"));
    led.key('p');
    led.pass(0.6);
    CHECK(led.run.session().counts().right == 1);
    CHECK(led.shows(asked.grip.text()));
}

TEST_CASE("A break is suggested after the minutes that were chosen, deferring to teachers and clinicians") {
    PracticePlan plan = planned();
    plan.break_after_min = 0.05;
    Led led(plan);
    led.pass(2.5);
    CHECK(!led.shows("A break is due"));
    led.pass(1.0);
    CHECK(led.shows("A break is due"));
    CHECK(led.shows("clinician"));
}

TEST_CASE("What the pins leave nothing of is told, and nothing is asked") {
    PracticePlan plan = planned();
    plan.pins.qualities = {"m7"};
    Led led(plan);
    CHECK(led.shows("Nothing to ask"));
}
