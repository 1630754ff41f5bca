#include <doctest/doctest.h>

#include <set>

#include "practice/step_row.h"

using namespace gripline;

TEST_CASE("A rising row begins at the lowest step and starts again after the highest") {
    StepRow row(3, StepOrder::up, 1);
    CHECK(row.step() == 0);
    CHECK(row.next_step() == 1);
    row.forward();
    row.forward();
    CHECK(row.step() == 2);
    CHECK(row.next_step() == 0);
    row.forward();
    CHECK(row.step() == 0);
}

TEST_CASE("A falling row begins at the highest step") {
    StepRow row(3, StepOrder::down, 1);
    CHECK(row.step() == 2);
    row.forward();
    CHECK(row.step() == 1);
    row.back();
    row.back();
    CHECK(row.step() == 2);
}

TEST_CASE("A shuffled round asks every step once, and no step twice in a row, for 200 rounds of every length up to 9") {
    for (std::size_t steps = 2; steps <= 9; ++steps) {
        StepRow row(steps, StepOrder::shuffled, static_cast<std::uint32_t>(steps));
        std::size_t before = steps;
        for (int round = 0; round < 200; ++round) {
            std::set<std::size_t> asked;
            for (std::size_t i = 0; i < steps; ++i) {
                CHECK(row.step() != before);
                before = row.step();
                asked.insert(before);
                row.forward();
            }
            CHECK(asked.size() == steps);
        }
    }
}

TEST_CASE("The same seed shuffles the same, another seed otherwise") {
    const auto first_round = [](std::uint32_t seed) {
        StepRow row(8, StepOrder::shuffled, seed);
        std::vector<std::size_t> steps;
        for (int i = 0; i < 8; ++i) {
            steps.push_back(row.step());
            row.forward();
        }
        return steps;
    };
    CHECK(first_round(5) == first_round(5));
    CHECK(first_round(5) != first_round(6));
}

TEST_CASE("An empty row and a row of one step stand still") {
    StepRow none(0, StepOrder::shuffled, 1);
    none.forward();
    none.back();
    CHECK(none.empty());
    StepRow one(1, StepOrder::shuffled, 1);
    one.forward();
    CHECK(one.step() == 0);
    CHECK(one.next_step() == 0);
}
