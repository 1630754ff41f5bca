// Practice of a chart's joints alone.
#include <doctest/doctest.h>

#include <set>

#include "chart/chart_text.h"
#include "lines/walk_builder.h"
#include "practice/exercise_asking.h"
#include "practice/joints.h"
#include "practice/planned_steps.h"

using namespace gripline;

namespace {

Line line_over(const std::string& text) { return build_line(parse_chart(text).value(), {}).value(); }

}  // namespace

TEST_CASE("The joints of two dominants: E7 or Gb7 into F7, with the target's root and quality (common practice, no source)") {
    const auto pool = make_joints(line_over("| C7 | F7 |\n"), {}, 440.0, {}, Asking::named);
    REQUIRE(pool);
    REQUIRE(pool->steps.size() == 2);
    const PracticeStep& approach = pool->steps[0];
    const PracticeStep& target = pool->steps[1];
    CHECK(target.chord == "F7");
    CHECK(approach.chord == (approach.asked.from == From::below ? "E7" : "Gb7"));
    CHECK(approach.asked.place == Sounds::approach);
    CHECK(approach.asked.root.text() == "F");
    CHECK(approach.asked.asking == Asking::named);
    CHECK(target.asked.place == Sounds::chord);
    CHECK(!target.asked.from);
    CHECK(approach.given->grip == target.grip);
    CHECK(given_for(approach) == nullptr);  // the target is no help where the approach alone is asked
    CHECK(approach.asked.strings.text() == "6-4-3");
    const auto together = make_joints(line_over("| C7 | F7 |\n"), {}, 440.0, {}, Asking::into_target);
    REQUIRE(together);
    REQUIRE(together->steps.size() == 1);
    CHECK(given_for(together->steps[0])->chord == "F7");
}

TEST_CASE("A planned session of joints asks each approach and right after it its target, and nothing else") {
    const Line line = line_over("| Am7 | D7 | Gmaj7 | C7 |\n| F7 | Bb7 | Cm6 | G7 |\n");
    std::set<std::pair<std::string, std::string>> joints;
    for (std::size_t i = 0; i + 1 < line.beats.size(); ++i)
        if (line.beats[i].role == Sounds::approach) joints.insert({line.beats[i].grip.text(), line.beats[i + 1].grip.text()});
    REQUIRE(joints.size() >= 5);
    const auto pool = make_joints(line, {}, 440.0, {}, Asking::shown);
    REQUIRE(pool);
    PlannedSteps planned({}, *pool);
    std::set<std::pair<std::string, std::string>> asked;
    for (int i = 0; i < 60; ++i) {
        const auto first = planned.next(1'780'000'000'000 + i * 10'000);
        REQUIRE(first);
        const PracticeStep approach = pool->steps[first->step];
        CHECK(approach.asked.place == Sounds::approach);
        Attempt attempt = approach.asked;
        attempt.verdict = VerdictKind::right;
        planned.answered(attempt, 1'780'000'000'000 + i * 10'000);
        const auto second = planned.next(1'780'000'000'000 + i * 10'000 + 4000);
        REQUIRE(second);
        CHECK(second->why == "the target that it leads into");
        asked.insert({approach.grip.text(), pool->steps[second->step].grip.text()});
        attempt = pool->steps[second->step].asked;
        attempt.verdict = VerdictKind::right;
        planned.answered(attempt, 1'780'000'000'000 + i * 10'000 + 4000);
    }
    for (const auto& pair : asked) CHECK(joints.contains(pair));
    CHECK(asked.size() == joints.size());
}

TEST_CASE("The skills of a line's joints are those of the chords led into: D7 after Am7 is approached as a seventh in D") {
    const auto joints = make_joints(line_over("| Am7 | D7 |\n"), {}, 440.0, {}, Asking::shown);
    REQUIRE(joints);
    REQUIRE(joints->steps.size() == 2);
    CHECK(joints->steps[0].asked.place == Sounds::approach);
    for (const PracticeStep& step : joints->steps) {
        const Skill skill = skill_of(step.asked);
        CHECK(skill.quality == "7");
        CHECK(skill.key == PitchClass(2));
    }
}

TEST_CASE("A chart without joints, pins that leave none, and ways of asking that know none are refused with their reason") {
    const auto none = make_joints(line_over("| C7 | C7 |\n"), {}, 440.0, {}, Asking::shown);
    REQUIRE(!none);
    CHECK(none.error().message.find("has no joint") != std::string::npos);
    Pins pins;
    pins.qualities = {"m6"};
    const auto pinned = make_joints(line_over("| C7 | F7 |\n"), {}, 440.0, pins, Asking::shown);
    REQUIRE(!pinned);
    CHECK(pinned.error().message.find("m6") != std::string::npos);
    CHECK(!make_joints(line_over("| C7 | F7 |\n"), {}, 440.0, {}, Asking::next_step));
}
