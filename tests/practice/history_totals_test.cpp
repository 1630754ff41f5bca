// Running totals as pages read them: added up here by hand, attempt by attempt.
#include <doctest/doctest.h>

#include <cmath>
#include <map>
#include <tuple>

#include "practice/attempt_fixture.h"
#include "practice/history_totals.h"

using namespace gripline;
using namespace gripline::test;

TEST_CASE("totals of each skill and day are the sums over the attempts, by the player's own days") {
    auto history = History::in_memory().value();
    std::mt19937 random(77);
    std::map<std::pair<std::int64_t, Skill>, PracticeTally> days;
    std::map<std::tuple<Skill, std::string, int, int>, std::int64_t> faults;
    std::map<std::pair<Skill, int>, std::pair<std::int64_t, std::int64_t>> tempos;
    for (int i = 0; i < 500; ++i) {
        Attempt a = random_attempt(random);
        REQUIRE(history->add(a).ok());
        if (a.player != "player A") continue;
        PracticeTally& sum = days[{day_of(a), skill_of(a)}];
        const bool right = a.verdict == VerdictKind::right, wrong = a.verdict == VerdictKind::wrong, first = a.try_number == 1 && !a.helped;
        sum.right += right;
        sum.wrong += wrong;
        sum.unheard += !right && !wrong;
        sum.first_right += right && first;
        sum.first_wrong += wrong && first;
        if ((right || wrong) && a.answer_s) {
            ++sum.answers;
            sum.answer_s += *a.answer_s;
            sum.answer_ln += std::log(*a.answer_s);
        }
        if (a.off_ms) {
            ++sum.beats;
            sum.off_ms += *a.off_ms;
            sum.off_square += *a.off_ms * *a.off_ms;
        }
        if (right && a.tempo_bpm) sum.most_tempo_bpm = std::max(sum.most_tempo_bpm, *a.tempo_bpm);
        sum.last_ms = std::max(sum.last_ms, a.at_ms);
        if (first && (right || wrong) && a.tempo_bpm) {
            auto& at = tempos[{skill_of(a), static_cast<int>(std::lround(*a.tempo_bpm))}];
            ++(right ? at.first : at.second);
        }
        if (!a.faults.empty()) ++faults[{skill_of(a), word(a.faults[0].kind), a.faults[0].string ? a.faults[0].string->number() : 0, a.faults[0].frets}];
    }
    const auto told = skill_days(*history, "player A", -100'000, 100'000).value();
    REQUIRE(told.size() == days.size());
    REQUIRE(days.size() > 100);
    std::map<Skill, PracticeTally> whole;
    for (const auto& [skill, day, tally] : told) {
        const auto found = days.find({day, skill});
        REQUIRE_MESSAGE(found != days.end(), skill.text());
        const PracticeTally& sum = found->second;
        CHECK(std::tie(tally.right, tally.wrong, tally.unheard, tally.first_right, tally.first_wrong, tally.answers, tally.beats, tally.most_tempo_bpm, tally.last_ms) ==
              std::tie(sum.right, sum.wrong, sum.unheard, sum.first_right, sum.first_wrong, sum.answers, sum.beats, sum.most_tempo_bpm, sum.last_ms));
        CHECK(tally.answer_s == doctest::Approx(sum.answer_s));
        CHECK(tally.answer_ln == doctest::Approx(sum.answer_ln));
        CHECK(tally.off_ms == doctest::Approx(sum.off_ms));
        CHECK(tally.off_square == doctest::Approx(sum.off_square));
        whole[skill].right += tally.right;
        whole[skill].wrong += tally.wrong;
    }
    const auto totals = skill_totals(*history, "player A").value();
    REQUIRE(totals.size() == whole.size());
    for (const SkillTally& one : totals) {
        CHECK(one.tally.right == whole.at(one.skill).right);
        CHECK(one.tally.wrong == whole.at(one.skill).wrong);
        const auto its_days = days_of_skill(*history, "player A", one.skill).value();
        std::int64_t right = 0;
        for (const SkillTally& day : its_days) right += day.tally.right;
        CHECK(right == one.tally.right);
    }
    const auto tempo_rows = tempo_totals(*history, "player A").value();
    REQUIRE(tempo_rows.size() == tempos.size());
    CHECK(tempos.size() > 10);
    for (const TempoTally& row : tempo_rows) CHECK(std::pair(row.right, row.wrong) == tempos.at({row.skill, row.tempo_bpm}));
    const auto fault_rows = fault_totals(*history, "player A").value();
    REQUIRE(fault_rows.size() == faults.size());
    for (const FaultTally& row : fault_rows) CHECK(row.count == faults.at({row.skill, word(row.kind), row.string, row.frets}));
}

TEST_CASE("what was asked by ear against what was answered is counted") {
    auto history = History::in_memory().value();
    Attempt attempt = simple_attempt("A", kNovember_ms, VerdictKind::wrong);
    attempt.asking = Asking::name_it;
    attempt.question = "quality";
    attempt.quality = "m6";
    for (const char* answered : {"7", "7", "6"}) {
        attempt.answered = answered;
        REQUIRE(history->add(attempt).ok());
    }
    const auto rows = answer_totals(*history, "A").value();
    REQUIRE(rows.size() == 2);
    CHECK(rows[1].question == "quality");
    CHECK(rows[1].asked == "m6");
    CHECK(rows[1].answered == "7");
    CHECK(rows[1].count == 2);
}

TEST_CASE("a day's totals and a range of days are found; nobody has none") {
    auto history = History::in_memory().value();
    for (int day = 0; day < 10; ++day) {
        for (int i = 0; i <= day; ++i) REQUIRE(history->add(simple_attempt("A", kNovember_ms + day * 86'400'000LL + i, i % 2 == 0 ? VerdictKind::right : VerdictKind::wrong)).ok());
    }
    const std::int64_t first = day_of(kNovember_ms, 0);
    const auto days = day_totals(*history, "A").value();
    REQUIRE(days.size() == 10);
    CHECK(days[4].day == first + 4);
    CHECK(days[4].right == 3);
    CHECK(days[4].wrong == 2);
    CHECK(skill_days(*history, "A", first + 7, first + 9).value().size() == 2);
    CHECK(skill_totals(*history, "nobody").value().empty());
}

TEST_CASE("weeks run from Monday to Sunday: 2026-11-01 was a Sunday, the next day begins another week") {
    auto history = History::in_memory().value();
    for (int day = 0; day < 9; ++day) REQUIRE(history->add(simple_attempt("A", kNovember_ms + day * 86'400'000LL)).ok());
    const std::int64_t sunday = day_of(kNovember_ms, 0);
    const auto weeks = skill_weeks(*history, "A", 0, sunday + 100).value();
    REQUIRE(weeks.size() == 3);
    CHECK(weeks[0].day == sunday - 6);
    CHECK(weeks[0].tally.right == 1);
    CHECK(weeks[1].day == sunday + 1);
    CHECK(weeks[1].tally.right == 7);
    CHECK(weeks[2].tally.right == 1);
    CHECK(weeks[1].tally.last_ms == kNovember_ms + 7 * 86'400'000LL);
}

TEST_CASE("a range of weeks takes in every week that has a day in it") {
    auto history = History::in_memory().value();
    for (int day = 0; day < 28; ++day) REQUIRE(history->add(simple_attempt("A", kNovember_ms + day * 86'400'000LL)).ok());
    const std::int64_t monday = day_of(kNovember_ms, 0) + 1;
    CHECK(skill_weeks(*history, "A", monday + 6, monday + 7).value().size() == 1);
    CHECK(skill_weeks(*history, "A", monday + 6, monday + 8).value().size() == 2);
    CHECK(skill_weeks(*history, "A", monday, monday + 1).value().front().day == monday);
}
