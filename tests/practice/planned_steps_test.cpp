#include <doctest/doctest.h>

#include <set>

#include "practice/planned_steps.h"
#include "practice/session_summary.h"

using namespace gripline;

namespace {

constexpr std::int64_t kNow_ms = 1'780'000'000'000;

Attempt answer(const PracticeStep& step, VerdictKind kind) {
    Attempt attempt = step.asked;
    attempt.verdict = kind;
    return attempt;
}

}  // namespace

TEST_CASE("Pins leave only what they name, and a pool without steps is refused with its reason") {
    Pins pins;
    pins.key = PitchClass(10);
    pins.qualities = {"7"};
    pins.from = From::above;
    const auto pool = make_pool({}, {}, 440.0, pins, Asking::named);
    REQUIRE(pool);
    REQUIRE(pool->steps.size() >= 3);
    for (const PracticeStep& step : pool->steps) {
        CHECK(step.chord == "B7");  // into Bb7 from above: the same grip one fret up (common practice, no source)
        CHECK(step.asked.root.text() == "Bb");
        CHECK(step.asked.place == Sounds::approach);
        CHECK(step.asked.from == From::above);
        CHECK(step.asked.asking == Asking::named);
    }
    pins.qualities = {"m7"};
    const auto none = make_pool({}, {}, 440.0, pins, Asking::named);
    REQUIRE(!none);
    CHECK(none.error().message.find("m7") != std::string::npos);
}

TEST_CASE("Of 300 planned steps no two in a row are the same, each tells why, and no more new grips than allowed are in hand") {
    Pins pins;
    pins.key = PitchClass(0);
    const auto pool = make_pool({}, {}, 440.0, pins, Asking::shown);
    REQUIRE(pool);
    ScheduleConfig config;
    config.most_new = 2;
    PlannedSteps planned({}, *pool, config);
    std::optional<std::size_t> last;
    std::set<Skill> asked;
    for (int i = 0; i < 300; ++i) {
        const auto next = planned.next(kNow_ms + i * 6000);
        REQUIRE(next);
        CHECK(next->step != last);
        CHECK(!next->why.empty());
        last = next->step;
        asked.insert(skill_of(pool->steps[*last].asked));
        CHECK(asked.size() <= 2);  // nothing was right yet
        planned.answered(answer(pool->steps[*last], VerdictKind::wrong), kNow_ms + i * 6000 + 3000);
    }
}

TEST_CASE("What is missed comes more often than the rest") {
    Pins pins;
    pins.key = PitchClass(0);
    const auto pool = make_pool({}, {}, 440.0, pins, Asking::shown);
    REQUIRE(pool);
    PlannedSteps planned({}, *pool);
    int weak = 0, all = 0;
    std::set<Skill> skills;
    for (int i = 0; i < 200; ++i) {
        const auto next = planned.next(kNow_ms + i * 6000);
        REQUIRE(next);
        const PracticeStep& step = pool->steps[next->step];
        skills.insert(skill_of(step.asked));
        const bool is_weak = step.asked.quality == "7" && step.asked.from == From::above;
        weak += is_weak;
        ++all;
        planned.answered(answer(step, is_weak ? VerdictKind::wrong : VerdictKind::right), kNow_ms + i * 6000 + 3000);
    }
    CHECK(skills.size() == 16);  // four qualities: chord, passing, from below, from above
    CHECK(weak * 16 > 2 * all);  // evenly spread it would be one in sixteen
}

TEST_CASE("A summary has five lines that name what was missed most, and by which string") {
    const auto pool = make_pool({}, {}, 440.0, {}, Asking::shown);
    REQUIRE(pool);
    SessionSummary summary;
    CHECK(summary.lines(0.0)[2] == "Nothing was missed.");
    Attempt wrong;
    wrong.root = *NoteName::parse("Bb");
    wrong.place = Sounds::approach;
    wrong.from = From::above;
    wrong.verdict = VerdictKind::wrong;
    Fault fault;
    fault.kind = FaultKind::wrong_note;
    fault.string = StringNumber(3);
    fault.frets = -1;
    fault.probability = 0.9;
    wrong.faults = {fault};
    summary.add(wrong);
    Attempt right = wrong;
    right.verdict = VerdictKind::right;
    right.faults.clear();
    right.try_number = 2;
    right.answer_s = 2.0;
    summary.add(right);
    const auto lines = summary.lines(600.0);
    CHECK(lines[0] == "10 minutes, 1 step; right at the first try: 0 of 1.");
    CHECK(lines[1] == "All answers: right 1, wrong 1, unheard 0.");
    CHECK(lines[2] == "Missed most: approaches from above into 7 in Bb, 1 time.");
    CHECK(lines[3] == "Most frequent wrong note: string 3, 1 fret flat, 1 time.");
    CHECK(lines[4].find("Half of the right answers came within 2.0 s.") != std::string::npos);
}

TEST_CASE("Approach and target asked together are one step of the summary, right when both were") {
    SessionSummary summary;
    for (const auto& [approach, target] : {std::pair{VerdictKind::right, VerdictKind::right}, {VerdictKind::right, VerdictKind::wrong}, {VerdictKind::wrong, VerdictKind::right}}) {
        Attempt attempt;
        attempt.asking = Asking::into_target;
        attempt.place = Sounds::approach;
        attempt.from = From::below;
        attempt.verdict = approach;
        summary.add(attempt);
        attempt.place = Sounds::chord;
        attempt.from.reset();
        attempt.verdict = target;
        summary.add(attempt);
    }
    CHECK(summary.lines(60.0)[0] == "1 minute, 3 steps; right at the first try: 1 of 3.");
    CHECK(summary.lines(60.0)[1] == "All answers: right 4, wrong 2, unheard 0.");
}

TEST_CASE("Second tries, helped and unheard ones teach nothing: two players, one with such answers, are asked the same") {
    Pins pins;
    pins.qualities = {"7"};
    const auto pool = make_pool({}, {}, 440.0, pins, Asking::shown);
    REQUIRE(pool);
    PlannedSteps one({}, *pool), other({}, *pool);
    for (int i = 0; i < 40; ++i) {
        const auto a = one.next(kNow_ms + 10'000 * i), b = other.next(kNow_ms + 10'000 * i);
        REQUIRE(a);
        REQUIRE(b);
        CHECK(a->step == b->step);
        CHECK(a->why == b->why);
        Attempt attempt = answer(pool->steps[a->step], VerdictKind::wrong);
        attempt.try_number = 2;
        one.answered(attempt, kNow_ms + 10'000 * i);
        attempt.try_number = 1;
        attempt.helped = true;
        one.answered(attempt, kNow_ms + 10'000 * i);
        one.answered(answer(pool->steps[a->step], VerdictKind::unheard), kNow_ms + 10'000 * i);
    }
}

TEST_CASE("What the history holds as weak is asked as weak, with its numbers") {
    Pins pins;
    pins.key = PitchClass(0);
    pins.qualities = {"7"};
    const auto pool = make_pool({}, {}, 440.0, pins, Asking::shown);
    REQUIRE(pool);
    std::set<Skill> skills;
    for (const PracticeStep& step : pool->steps) skills.insert(skill_of(step.asked));
    REQUIRE(skills.size() == 4);  // chord, passing, from below, from above
    std::vector<SkillTally> totals;
    for (const Skill& skill : skills) {
        SkillTally tally{skill, 0, {}};
        const bool weak = skill.from == From::above;
        tally.tally.first_right = weak ? 1 : 19;
        tally.tally.first_wrong = weak ? 19 : 1;
        tally.tally.last_ms = kNow_ms - 10'000;
        totals.push_back(tally);
    }
    PlannedSteps planned(totals, *pool);
    int told = 0;
    for (int i = 0; i < 12; ++i) {
        const auto next = planned.next(kNow_ms + 10'000 * i);
        REQUIRE(next);
        if (pool->steps[next->step].asked.from != From::above) continue;
        CHECK(next->why == "weak: 1 of 20 right so far");
        ++told;
    }
    CHECK(told > 0);
}
