// What is asked next, and why.
#include "practice/schedule.h"

#include <doctest/doctest.h>

#include <map>
#include <random>
#include <set>

#include "practice/pins.h"
#include "support/drill.h"

using namespace gripline;
using namespace gripline::test;

namespace {

constexpr std::int64_t kMorning_ms = 1'790'000'000'000, kStep_ms = 10'000, kDay_ms = 86'400'000;

std::vector<std::size_t> numbers(LearnerModel& model, std::size_t cells) {
    std::vector<std::size_t> out;
    for (std::size_t cell = 0; cell < cells; ++cell) out.push_back(model.number(skill_of_cell(cell)));
    return out;
}

}  // namespace

TEST_CASE("No two same in a row, and never more than the chosen number of new grips in hand, whatever the answers") {
    for (const int most_new : {1, 2, 6}) {
        for (const double able : {0.0, 0.1, 0.5, 0.95}) {
            for (const std::size_t cells : {2u, 3u, 5u, 12u, 96u}) {
                LearnerModel model;
                ScheduleConfig config;
                config.most_new = most_new;
                Scheduler scheduler(model, numbers(model, cells), config);
                std::mt19937 random(static_cast<std::uint32_t>(most_new * 100 + cells));
                std::size_t last = cells;
                for (int i = 0; i < 300; ++i) {
                    const auto chosen = scheduler.next(kMorning_ms + i * kStep_ms);
                    REQUIRE(chosen);
                    CHECK(chosen->skill != last);
                    CHECK_FALSE(chosen->why.empty());
                    last = chosen->skill;
                    model.answer(last, std::uniform_real_distribution<double>(0, 1)(random) < able, kMorning_ms + i * kStep_ms);
                    int in_hand = 0;
                    for (std::size_t cell = 0; cell < cells; ++cell) in_hand += model.count(cell).attempts > 0 && model.count(cell).right == 0;
                    // One grip alone can't be asked again and again: a second comes in.
                    CHECK(in_hand <= std::max(2, most_new));
                }
            }
        }
    }
}

TEST_CASE("An empty pool asks nothing; a pool of one asks that one") {
    LearnerModel model;
    CHECK_FALSE(Scheduler(model, {}).next(kMorning_ms));
    Scheduler one(model, numbers(model, 1));
    for (int i = 0; i < 5; ++i) CHECK(one.next(kMorning_ms)->skill == 0);
}

TEST_CASE("Others that need it come between two askings of a skill; what is known does not fill the space") {
    // One of twelve is never right, the others always were: it comes as often as it can without coming twice in a row.
    LearnerModel model;
    Scheduler scheduler(model, numbers(model, 12));
    int asked = 0;
    std::size_t last = 12;
    for (int i = 0; i < 120; ++i) {
        const auto chosen = scheduler.next(kMorning_ms + i * kStep_ms);
        REQUIRE(chosen);
        CHECK(chosen->skill != last);
        last = chosen->skill;
        if (i >= 80) asked += last == 5;
        model.answer(last, last != 5, kMorning_ms + i * kStep_ms);
    }
    CHECK(asked == 20);
    // Six are never right: three others come between.
    LearnerModel weak;
    Scheduler spaced(weak, numbers(weak, 12));
    std::vector<std::size_t> order;
    for (int i = 0; i < 120; ++i) {
        order.push_back(spaced.next(kMorning_ms + i * kStep_ms)->skill);
        weak.answer(order.back(), order.back() >= 6, kMorning_ms + i * kStep_ms);
        for (int back = 1; i >= 80 && back <= 3; ++back) CHECK(order[static_cast<std::size_t>(i - back)] != order.back());
    }
}

TEST_CASE("It says why in plain words: new, missed, weak, due") {
    LearnerModel model;
    Scheduler fresh(model, numbers(model, 1));
    const auto first = fresh.next(kMorning_ms);
    CHECK(first->reason == AskReason::fresh);
    CHECK(first->why.rfind("new: not asked before; by what is like it, about ", 0) == 0);
    model.answer(0, false, kMorning_ms);
    CHECK(fresh.next(kMorning_ms + kStep_ms)->reason == AskReason::missed);  // once is not enough to be called weak
    for (int i = 1; i < 5; ++i) model.answer(0, false, kMorning_ms + i * kStep_ms);
    const auto weak = fresh.next(kMorning_ms + 6 * kStep_ms);
    CHECK(weak->reason == AskReason::weak);
    CHECK(weak->why == "weak: 0 of 5 right so far");
    LearnerModel other;
    Scheduler later(other, numbers(other, 1));
    for (int i = 0; i < 3; ++i) other.answer(0, true, kMorning_ms + i * kStep_ms);
    const auto due = later.next(kMorning_ms + 60 * kDay_ms);
    CHECK(due->reason == AskReason::due);
    CHECK(due->why.rfind("due: last asked 60 days ago; ", 0) == 0);
}

TEST_CASE("Pins leave only what they name") {
    std::vector<Skill> all;
    for (std::size_t cell = 0; cell < kCells; ++cell) all.push_back(skill_of_cell(cell));
    Pins pins;
    CHECK(pinned(all, pins).size() == kCells);
    CHECK(pins.text() == "everything");
    pins.key = PitchClass(10);
    CHECK(pinned(all, pins).size() == 8);
    pins.from = From::above;
    CHECK(pinned(all, pins).size() == 4);
    pins.qualities = {"7", "m6"};
    CHECK(pinned(all, pins).size() == 2);
    CHECK(pins.text() == "in Bb; 7 or m6; approaches from above");
}

TEST_CASE("Simulated learners that are not its own model: it finds planted cells and needs fewer attempts (a few; bench_learner has hundreds)") {
    DrillSetup setup;
    setup.least_other = 0.85;
    setup.find_only = true;
    int found = 0, ours = 0, random = 0, worst = 0;
    for (std::uint32_t seed = 7000; seed < 7012; ++seed) found += drill(seed, Rule::scheduler, setup).found;
    CHECK(found >= 33);  // of 36
    for (std::uint32_t seed = 7000; seed < 7006; ++seed) {
        ours += drill(seed, Rule::scheduler).attempts;
        random += drill(seed, Rule::random).attempts;
    }
    CHECK(ours < random * 7 / 10);
    ours = 0;
    for (std::uint32_t seed = 7000; seed < 7200; ++seed) {
        ours += drill(seed, Rule::scheduler).attempts;
        worst += drill(seed, Rule::worst).attempts;
    }
    CHECK(ours < worst * 85 / 100);
}
