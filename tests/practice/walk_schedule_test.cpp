// Count-ins, choruses and rests in time; parts of a chart.
#include "practice/walk_schedule.h"

#include <doctest/doctest.h>

using namespace gripline;

namespace {

WalkScore score_of(int bars) {
    WalkScore score;
    for (int bar = 1; bar <= bars; ++bar) {
        score.bars.push_back({.chords = "C7", .first_count = 4 * (bar - 1)});
        if (bar == 3) continue;  // silent
        for (int beat = 1; beat <= 4; ++beat) {
            ScoreBeat each;
            each.beat.bar = bar;
            each.beat.beat = beat;
            each.count = 4 * (bar - 1) + beat - 1;
            score.beats.push_back(each);
        }
    }
    return score;
}

}  // namespace

TEST_CASE("Passages follow each other without a gap, each with counts of its own length") {
    WalkSchedule schedule;
    CHECK_FALSE(schedule.place(0.0).has_value());
    schedule.add({.kind = PassageKind::count_in, .tempo_bpm = 120.0, .counts = 4, .chorus = 1});
    schedule.add({.kind = PassageKind::chorus, .tempo_bpm = 120.0, .counts = 16, .chorus = 1});
    schedule.add({.kind = PassageKind::chorus, .tempo_bpm = 240.0, .counts = 16, .chorus = 2});
    CHECK(schedule.passages()[1].start_s == 2.0);
    CHECK(schedule.passages()[2].start_s == 10.0);
    CHECK(schedule.end_s() == 14.0);
    CHECK_FALSE(schedule.place(-0.01).has_value());
    CHECK_FALSE(schedule.place(14.0).has_value());
    const auto place = schedule.place(10.3);
    REQUIRE(place.has_value());
    CHECK(place->passage == 2);
    CHECK(place->count == 1);
    CHECK(place->share == doctest::Approx(0.2));
    CHECK(schedule.place(9.999)->count == 15);
    schedule.drop_from(5.0);
    CHECK(schedule.passages().size() == 2);
    CHECK(schedule.end_s() == 10.0);
}

TEST_CASE("A part of the chart: its beats from its own first count, in bars as played") {
    const WalkScore score = score_of(4);
    const auto beats = timed_beats(score, {2, 4}, 10.0, 0.25);
    REQUIRE(beats.size() == 8);
    CHECK(beats.front().at_s == 10.0);
    CHECK(beats[4].bar == 4);
    CHECK(beats[4].at_s == 12.0);
    CHECK(within(score, {0, 99}) == BarRange{1, 4});
    CHECK(within(score, {4, 2}) == BarRange{4, 4});
}

TEST_CASE("Bars of other counts: six eighths between bars of four quarters last three counts of the tempo, and each count has its place in time") {
    WalkScore score = score_of(2);
    score.bars.insert(score.bars.begin() + 1, {.chords = "F7", .first_count = 4, .counts = 6, .share = 0.5});
    score.bars[2].first_count = 10;
    for (ScoreBeat& each : score.beats)
        if (each.beat.bar == 2) each.beat.bar = 3, each.count += 6;
    for (int beat = 1; beat <= 6; ++beat) {
        ScoreBeat each;
        each.beat.bar = 2;
        each.beat.beat = beat;
        each.beat.share = 0.5;
        each.count = 3 + beat;
        score.beats.insert(score.beats.begin() + 3 + beat, each);
    }
    const std::vector<double> places = count_places(score, {1, 3});
    CHECK(places == std::vector<double>{0, 1, 2, 3, 4, 4.5, 5, 5.5, 6, 6.5, 7, 8, 9, 10, 11});
    const auto beats = timed_beats(score, {2, 3}, 10.0, 0.5);
    REQUIRE(beats.size() == 10);
    for (std::size_t i = 0; i < 10; ++i) CHECK(beats[i].at_s == 10.0 + (i < 6 ? 0.25 * static_cast<double>(i) : 1.5 + 0.5 * static_cast<double>(i - 6)));

    WalkSchedule schedule;
    schedule.add({.kind = PassageKind::count_in, .tempo_bpm = 120.0, .counts = 4, .chorus = 1});
    schedule.add({.kind = PassageKind::chorus, .tempo_bpm = 120.0, .counts = 14, .places = places, .chorus = 1});
    CHECK(schedule.end_s() == 2.0 + 5.5);
    for (int count = 0; count < 14; ++count) {
        CAPTURE(count);
        const Passage& passage = schedule.passages()[1];
        const auto place = schedule.place((passage.at_s(count) + 3.0 * passage.at_s(count + 1)) / 4.0);
        REQUIRE(place.has_value());
        CHECK(place->passage == 1);
        CHECK(place->count == count);
        CHECK(place->share == doctest::Approx(0.75));
    }
}

TEST_CASE("Bars in words: 2-4, 2; what is no such range is told with what is allowed") {
    const WalkScore score = score_of(4);
    CHECK(*parse_bars("2-4", score) == BarRange{2, 4});
    CHECK(*parse_bars("2", score) == BarRange{2, 2});
    for (const char* bad : {"", "-", "0-2", "3-2", "1-5", "5", "a", "1-", "-3", "1-2-3", "1.5", "99999999999"}) {
        const auto range = parse_bars(bad, score);
        REQUIRE_FALSE(range.ok());
        CHECK(range.error().message.find("1 to 4") != std::string::npos);
    }
    CHECK(parse_bars("3", score).error().message.find("nothing to play") != std::string::npos);
}

TEST_CASE("What is due on a count: the beat that sounds or is held, the next one, the bar; a silence holds nothing, and a part ends at its last bar") {
    const WalkScore score = score_of(4);  // the third bar is silent
    CHECK(beat_on(score, {1, 4}, 0)->count == 0);
    CHECK(beat_on(score, {1, 4}, 7)->count == 7);
    CHECK(beat_on(score, {1, 4}, 8) == nullptr);
    CHECK(beat_on(score, {2, 4}, 3) == nullptr);
    CHECK(beat_from(score, {1, 4}, 8)->count == 12);
    CHECK(beat_from(score, {1, 3}, 8) == nullptr);
    CHECK(beat_from(score, {4, 4}, 0)->count == 12);
    CHECK(beat_from(score, {1, 4}, 16) == nullptr);
    CHECK(&bar_on(score, 0) == &score.bars[0]);
    CHECK(&bar_on(score, 11) == &score.bars[2]);
    CHECK(&bar_on(score, 99) == &score.bars[3]);
    CHECK(first_count(score, {3, 4}) == 8);
    CHECK(counts_of(score, {3, 4}) == 8);
    CHECK(counts_of(score, {2, 2}) == 4);
}
