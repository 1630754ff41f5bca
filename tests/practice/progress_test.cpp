#include <doctest/doctest.h>

#include <map>

#include "practice/attempt_fixture.h"
#include "practice/progress.h"
#include "support/progress_source.h"

using namespace gripline;
using namespace gripline::test;

TEST_CASE("Progress counts first tries by quality, direction and key, and a part counts only what it holds") {
    const ProgressSource source = planted_source();
    const Progress all = count_progress(source, {});
    REQUIRE(all.rows.size() == 2);
    CHECK(all.rows[0].quality == "7");
    CHECK(all.rows[0].cells[0].count == RateCount{7 * (12 * 4 + 5), 7 * 12 * 4});
    CHECK(all.rows[1].cells[0].count == RateCount{35, 21});
    CHECK(all.rows[1].cells[3].count == RateCount{});
    RateCount by_keys, by_cells;
    for (const ProgressCell& key : all.keys) by_keys += key.count;
    for (const ProgressRow& row : all.rows)
        for (const ProgressCell& cell : row.cells) by_cells += cell.count;
    CHECK(by_keys == all.all);
    CHECK(by_cells == all.all);
    const Progress part = count_progress(source, {"7", ProgressColumn::above, PitchClass(4)});
    CHECK(part.all == RateCount{36, 0});
    CHECK(part.part.text() == "7, from above, key E");
    CHECK(standing(part.all) == Standing::weak);
    CHECK(part.keys[4].count == part.all);
    CHECK(part.faults.front() == "string 4, one fret flat: 21");
    CHECK(part.faults.size() == 3);
    REQUIRE(part.strings.size() == 3);  // strings 5, 4 and 3; the shifted grip is no string's
    CHECK(part.strings[0].string == 5);
    CHECK(part.strings[0].extra == 6);
    CHECK(part.strings[1].string == 4);
    CHECK(part.strings[1].by_frets == std::array<std::int64_t, 7>{0, 0, 21, 0, 0, 0, 0});
    CHECK(part.strings[2].missing == 2);
    CHECK(count_progress(source, {.quality = "6", .column = {}, .key = {}}).all == RateCount{});
}

TEST_CASE("Weeks end with this one; trend and comparison say no more than the numbers") {
    const ProgressSource source = planted_source();
    const Progress all = count_progress(source, {});
    CHECK(all.weeks.size() == std::size_t{kWeeksShown});
    CHECK(all.weeks.back().week == week_of(kToday));
    CHECK(all.weeks.front().count.attempts == 0);
    REQUIRE(all.trend);
    CHECK(trend_word(*all.trend) == "rising");
    CHECK(week_words(all) == "no clear change since last week");
    const Progress few = count_progress(source, {"m7", ProgressColumn::chord, {}});
    CHECK_FALSE(few.trend);
    CHECK(week_words(few) == "too few to compare");
    const Progress never = count_progress(ProgressSource{}, {});
    CHECK_FALSE(never.trend);
    CHECK(never.rows.empty());
}

TEST_CASE("Today's plan fills ten minutes, warms up on what is sure, and drills what is weak, the weakest first") {
    const auto plan = plan_today(planted_source());
    int minutes = 0;
    for (const PlanItem& item : plan) minutes += item.minutes;
    CHECK(minutes == 10);
    REQUIRE(plan.size() >= 3);
    CHECK(plan[0].words.find("to warm up") != std::string::npos);
    CHECK(plan[1].words.find("7, from above") != std::string::npos);
    CHECK(plan[1].words.find("weak") != std::string::npos);
    CHECK(plan_today(ProgressSource{}).empty());
    ProgressSource one;
    one.today = kToday;
    put_day(one, {"7", Sounds::chord, std::nullopt, PitchClass(0), "6-4-3", Asking::shown}, kToday, 3, 0);
    minutes = 0;
    for (const PlanItem& item : plan_today(one)) {
        minutes += item.minutes;
        CHECK(item.words.find("weak") == std::string::npos);  // three answers say nothing
    }
    CHECK(minutes == 10);
}

TEST_CASE("Dates as ISO 8601 has them") {
    CHECK(date_text(0) == "1970-01-01");
    CHECK(date_text(kToday) == "2026-11-25");
    CHECK(date_text(19782) == "2024-02-29");
}

TEST_CASE("Read from the history, progress holds the very sums of the attempts stored") {
    auto history = History::in_memory().value();
    std::mt19937 random(5);
    RateCount first;
    std::map<std::int64_t, RateCount> by_week;
    std::int64_t latest = 0;
    long tries = 0;
    for (int i = 0; i < 300; ++i) {
        Attempt attempt = random_attempt(random);
        attempt.player = "player A";
        REQUIRE(history->add(attempt).ok());
        ++tries;
        latest = std::max(latest, day_of(attempt));
        if (attempt.try_number != 1 || attempt.helped || attempt.verdict == VerdictKind::unheard) continue;
        first += {1, attempt.verdict == VerdictKind::right ? 1 : 0};
        by_week[week_of(day_of(attempt))] += {1, attempt.verdict == VerdictKind::right ? 1 : 0};
    }
    const auto source = read_progress(*history, "player A", latest);
    REQUIRE(source.ok());
    const Progress all = count_progress(*source, {});
    CHECK(all.all == first);
    CHECK(all.attempts == tries);
    REQUIRE(all.weeks.size() == static_cast<std::size_t>(kWeeksShown));
    for (const WeekCount& week : all.weeks) CHECK(week.count == by_week[week.week]);
    CHECK(read_progress(*history, "nobody", latest)->totals.empty());
}

TEST_CASE("Tempo reached: the fastest at which all answers at it or faster are surely 80 % right; 61 of 65 by Wilson's 1927 formula in Python: 0.852 to 0.976") {
    const Progress progress = count_progress(planted_source(), {});
    REQUIRE(progress.tempos.size() == 2);
    const ProgressTempo& chord = progress.tempos[0];
    CHECK(chord.column == ProgressColumn::chord);
    REQUIRE(chord.reached);
    CHECK(chord.reached->tempo_bpm == 120.0);
    CHECK(chord.reached->count == RateCount{65, 61});
    CHECK(chord.text() == "7, chord: 120 a minute (61 of 65 right at that or faster, 85 to 98 %)");
    CHECK_FALSE(progress.tempos[1].reached);
    CHECK(progress.tempos[1].text() == "7, from above: none for sure yet (10 answers, fastest at 100)");
    ProgressPart above;
    above.column = ProgressColumn::above;
    CHECK(count_progress(planted_source(), above).tempos.size() == 1);
}

TEST_CASE("Name-it is counted question by question, with what is taken for what; 29 of 30 by Wilson's 1927 formula in Python: 0.833 to 0.994") {
    const Progress progress = count_progress(planted_source(), {});
    REQUIRE(progress.questions.size() == 2);
    CHECK(progress.questions[0].text() == "bass degree: 97 % of 30 (83 to 99 %); b3 called 3: once");
    CHECK(progress.questions[1].count == RateCount{20, 16});
    CHECK(progress.questions[1].text() == "quality: 80 % of 20 (58 to 92 %); m6 called 6: 4 times");
    ProgressPart above;
    above.column = ProgressColumn::above;
    CHECK(count_progress(planted_source(), above).questions.empty());
}
