// From the running totals to the next asking.
#include "practice/what_next.h"

#include <doctest/doctest.h>

#include <map>

#include "support/drill.h"
#include "support/progress_source.h"

using namespace gripline;
using namespace gripline::test;

namespace {

constexpr std::int64_t kNoon_ms = kToday * 86'400'000 + 43'200'000;

std::vector<Skill> all_approaches() {
    std::vector<Skill> out;
    for (std::size_t cell = 0; cell < 24; ++cell) out.push_back(skill_of_cell(cell));  // of dominants: 12 keys from below, 12 from above
    return out;
}

}  // namespace

TEST_CASE("The kept weakness is asked more than what is strong, and called weak; what was never asked comes as new") {
    const ProgressSource source = planted_source();  // approaches from above fail in E and B
    WhatNext next(source.totals);
    CHECK_FALSE(next.next(kNoon_ms));
    REQUIRE(next.choose_from(all_approaches()));
    Skill weak = skill_of_cell(12 + 4), strong = skill_of_cell(0);
    CHECK(next.recall(weak, kNoon_ms) < 0.4);
    CHECK(next.recall(strong, kNoon_ms) > 0.75);
    std::map<Skill, int> asked;
    std::map<AskReason, int> reasons;
    for (int i = 0; i < 60; ++i) {
        const std::int64_t at_ms = kNoon_ms + i * 8000;
        const auto asking = next.next(at_ms);
        REQUIRE(asking);
        ++asked[asking->skill];
        ++reasons[asking->reason];
        if (asking->skill == weak) CHECK(asking->reason == AskReason::weak);
        next.answered(asking->skill, asking->skill.key != weak.key, at_ms);
    }
    CHECK(asked[weak] >= 2 * std::max(1, asked[strong]));
    CHECK(reasons[AskReason::fresh] == 12);  // 5 keys from above and 7 from below (E and B too) were never asked
}

TEST_CASE("Pins that leave nothing are told, and nothing is asked") {
    WhatNext next({});
    Pins pins;
    pins.qualities = {"m7"};
    CHECK_FALSE(next.choose_from(all_approaches(), pins));
    CHECK_FALSE(next.next(kNoon_ms));
    pins.qualities = {"7"};
    pins.from = From::above;
    pins.key = PitchClass(4);
    REQUIRE(next.choose_from(all_approaches(), pins));
    CHECK(next.next(kNoon_ms)->skill == skill_of_cell(12 + 4));
}
