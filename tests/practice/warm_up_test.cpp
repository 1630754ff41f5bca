// What comes first: easy chords, those that the player knows before others, each another grip, shown.
#include <doctest/doctest.h>

#include <algorithm>

#include "practice/planned_steps.h"
#include "practice/warm_up.h"

using namespace gripline;

namespace {

Exercise pool(Asking asking = Asking::named) { return make_pool(Course{}, Neck{}, 440.0, {}, asking).value(); }

SkillTally answered(const PracticeStep& step, int right, int wrong) {
    SkillTally out;
    out.skill = skill_of(step.asked);
    out.tally.first_right = right;
    out.tally.first_wrong = wrong;
    return out;
}

/// Frets between the lowest and the highest finger.
int stretch(const Grip& grip) {
    int low = 99, high = 0;
    for (int string = 1; string <= grip.strings(); ++string)
        if (const auto fret = grip.fret(StringNumber(string)); fret && fret->number() > 0) {
            low = std::min(low, fret->number());
            high = std::max(high, fret->number());
        }
    return std::max(0, high - low);
}

}  // namespace

TEST_CASE("Who starts warms up on four chords of a small stretch, each shown, no two alike") {
    const Exercise few = make_warm_up(pool(), {});
    REQUIRE(few.steps.size() == static_cast<std::size_t>(kWarmUpSteps));
    for (const PracticeStep& step : few.steps) {
        CHECK(step.asked.asking == Asking::shown);
        CHECK(step.asked.place == Sounds::chord);
        CHECK(stretch(step.grip) <= 2);
        CHECK(std::count_if(few.steps.begin(), few.steps.end(), [&](const PracticeStep& other) { return other.grip == step.grip || other.chord == step.chord; }) == 1);
    }
}

TEST_CASE("What the player knows comes first, in whatever way it was asked; what was missed does not") {
    const Exercise all = pool(Asking::shown);
    std::vector<const PracticeStep*> chords;
    for (const PracticeStep& step : all.steps)
        if (step.asked.place == Sounds::chord) chords.push_back(&step);
    std::stable_sort(chords.begin(), chords.end(), [](const PracticeStep* a, const PracticeStep* b) { return stretch(a->grip) > stretch(b->grip); });
    const PracticeStep& hard = *chords.front();
    const Exercise unknown = make_warm_up(all, {});
    CHECK(std::none_of(unknown.steps.begin(), unknown.steps.end(), [&](const PracticeStep& step) { return step.grip == hard.grip; }));
    SkillTally known = answered(hard, 9, 1);
    known.skill.asking = Asking::by_ear;
    const Exercise first = make_warm_up(all, std::vector{known});
    CHECK(skill_of(first.steps.front().asked).quality == known.skill.quality);
    CHECK(skill_of(first.steps.front().asked).key == known.skill.key);
    const Exercise missed = make_warm_up(all, std::vector{answered(hard, 5, 5)});
    CHECK(missed.steps.front().grip == unknown.steps.front().grip);
}

TEST_CASE("A pool without chords leaves nothing to warm up on, and a small one what it has") {
    Exercise none;
    CHECK(make_warm_up(none, {}).steps.empty());
    Exercise one;
    one.steps.push_back(pool().steps.front());
    CHECK(make_warm_up(one, {}).steps.size() <= 1);
}
