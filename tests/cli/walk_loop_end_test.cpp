// Bars of a line that are walked over and over lead back to their first grip (an approach takes the last beat before a change: common practice, no source).
#include <doctest/doctest.h>

#include <algorithm>

#include "chart/chart_library.h"
#include "cli/walk_beats.h"

using namespace gripline;

namespace {

AskedWalk walk_over(const std::string& chart, void (*wish)(LineOptions&) = [](LineOptions&) {}) {
    WalkOptions options;
    options.line.chart = chart;
    wish(options.line);
    auto plan = plan_walk(options);
    if (!plan) FAIL(plan.error().message);
    return std::move(*plan);
}

/// The beats of the bars, the last one as it leads back.
std::vector<ScoreBeat> beats_of(const AskedWalk& walk, BarRange bars) {
    std::vector<ScoreBeat> out;
    for (const ScoreBeat& each : walk.score.beats)
        if (each.beat.bar >= bars.first && each.beat.bar <= bars.last) out.push_back(each);
    if (const auto end = walk.loop_end(bars)) {
        CHECK(end->last_bar == bars.last);
        CHECK(end->beat.count == out.back().count);
        out.back() = end->beat;
    }
    return out;
}

bool a_fret_beside(const Grip& approach, const Grip& target) {
    const auto below = target.slid(-1), above = target.slid(1);
    return (below && approach == *below) || (above && approach == *above);
}

}  // namespace

TEST_CASE("in every library chart loops of one, two and four bars: where the chord changes on the way back, the last beat is the first grip slid a fret") {
    int changes = 0, others = 0;
    for (const LibraryChart& each : chart_library()) {
        CAPTURE(std::string(each.name));
        const AskedWalk walk = walk_over(std::string(each.name));
        const int bars = static_cast<int>(walk.score.bars.size());
        for (const int length : {1, 2, 4}) {
            for (int first = 1; first + length - 1 <= bars; ++first) {
                CAPTURE(first);
                CAPTURE(length);
                const auto beats = beats_of(walk, {first, first + length - 1});
                REQUIRE(beats.size() >= 2);
                const ScoreBeat &back = beats.back(), &before = beats[beats.size() - 2], &target = beats.front();
                CHECK(*back.beat.target.grip != *target.beat.target.grip);
                if (back.beat.chord == target.beat.chord || before.beat.chord != back.beat.chord) {
                    ++others;
                    continue;
                }
                ++changes;
                CHECK(a_fret_beside(*back.beat.target.grip, *target.beat.target.grip));
                CHECK(back.beat.asked.place == Sounds::approach);
                CHECK(back.beat.asked.grip == *back.beat.target.grip);
                CHECK(back.beat.asked.root.text() == target.beat.asked.root.text());  // it trains reaching the chord that comes
                CHECK_FALSE(back.sounds.empty());
            }
        }
    }
    CHECK(changes > 200);
    CHECK(others > 50);
}

TEST_CASE("a loop's way back keeps to the side that is asked, and to the landing") {
    const auto below = walk_over("two-five-one-major", [](LineOptions& o) { o.approach = "below"; });
    const auto above = walk_over("two-five-one-major", [](LineOptions& o) { o.approach = "above"; o.landing = true; });
    for (const BarRange bars : {BarRange{1, 2}, BarRange{5, 6}}) {
        const auto low = beats_of(below, bars), high = beats_of(above, bars);
        CHECK(*low.back().beat.target.grip == *low.front().beat.target.grip->slid(-1));
        CHECK(high.back().beat.target.grip->text() == high.front().beat.target.grip->slid(1)->text());
        CHECK(high.size() < low.size());
    }
}

TEST_CASE("a line that comes again leads back as a whole, and a loop of all its bars would do it no otherwise") {
    const AskedWalk again = walk_over("two-five-one-major", [](LineOptions& o) { o.again = true; });
    CHECK(again.loop_end(all_bars(again.score))->beat.beat.target.grip->text() == again.score.beats.back().beat.target.grip->text());
    CHECK(a_fret_beside(*again.score.beats.back().beat.target.grip, *again.score.beats.front().beat.target.grip));
}
