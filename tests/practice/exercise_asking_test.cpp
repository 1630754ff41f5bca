#include <doctest/doctest.h>

#include "practice/course.h"
#include "practice/exercise_asking.h"

using namespace gripline;

namespace {

Exercise in_way(Asking asking, StepOrder order) {
    return asked_in_way(make_exercise({}, {}).value(), asking, order).value();
}

}  // namespace

TEST_CASE("From one step to the next: the C dominant-seventh shells up and down the neck") {
    // The worked table of the trade's C dominant seventh on strings 6-4-3 (common practice, no source), from the low end of the neck.
    const std::vector<std::string> shells = {"1x01xx", "3x23xx", "4x34xx", "6x55xx", "7x67xx", "8x89xx", "10-x-9-10-x-x", "12-x-10-12-x-x"};
    const Exercise up = in_way(Asking::next_step, StepOrder::up);
    const Exercise down = in_way(Asking::next_step, StepOrder::down);
    const Exercise both = in_way(Asking::next_step, StepOrder::shuffled);
    REQUIRE(up.steps.size() == shells.size());
    for (std::size_t i = 0; i < shells.size(); ++i) {
        CHECK(up.steps[i].grip.text() == shells[i]);
        CHECK(up.steps[i].asked.asking == Asking::next_step);
        CHECK(given_for(up.steps[i])->grip.text() == shells[i == 0 ? 1 : i - 1]);
        CHECK(up.steps[i].asked.motion == (i == 0 ? -1 : 1));
        CHECK(given_for(down.steps[i])->grip.text() == shells[i == 7 ? 6 : i + 1]);
        CHECK(down.steps[i].asked.motion == (i == 7 ? 1 : -1));
        CHECK(given_for(both.steps[i]));
    }
    CHECK(next_step_words(up.steps[3]) == "the next step up");
    CHECK(next_step_words(down.steps[3]) == "the next step down");
    CHECK(both.steps[3].asked.motion != both.steps[4].asked.motion);
}

TEST_CASE("What is sounded to ask: the step given, or the step itself") {
    const Exercise next = in_way(Asking::next_step, StepOrder::up);
    CHECK(prompt_of(next.steps[1]).grip.text() == "1x01xx");
    CHECK(prompt_of(next.steps[1]).bass == "F");
    const Exercise ear = in_way(Asking::by_ear, StepOrder::up);
    CHECK_FALSE(given_for(ear.steps[1]));
    CHECK(prompt_of(ear.steps[1]).grip.text() == "3x23xx");
    CHECK(prompt_is_asking(Asking::by_ear));
    CHECK_FALSE(prompt_is_asking(Asking::named));
}

TEST_CASE("A single step has no next one") {
    Exercise one = make_exercise({}, {}).value();
    one.steps.resize(1);
    const auto none = asked_in_way(one, Asking::next_step, StepOrder::up);
    REQUIRE_FALSE(none);
    CHECK(none.error().message.find("holds 1 of the steps") != std::string::npos);
    CHECK(asked_in_way(one, Asking::named, StepOrder::up));
}
