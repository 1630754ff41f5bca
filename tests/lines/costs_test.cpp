// Costs: named, settable, and added up as they say.
#include "lines/costs.h"

#include <cmath>

#include "chart/chart_library.h"
#include "lines/line_fixture.h"

using namespace gripline;
using namespace gripline::testing;

TEST_CASE("costs are set by name; unknown names and values out of range are refused") {
    const Costs costs = *Costs().with("turn=3, stretch=0.25");
    CHECK(costs.hundredths(Cost::turn) == 300);
    CHECK(costs.hundredths(Cost::stretch) == 25);
    CHECK(costs.hundredths(Cost::hand_travel) == 100);
    for (const CostRow& row : cost_rows()) CHECK(Costs().with(row.name, 1.0).ok());
    const std::pair<const char*, const char*> bad[] = {
        {"turns=3", "unknown cost \"turns\"; costs are hand-travel, stretch, "}, {"turn", "cost \"turn\" is not understood"}, {"turn=x", "cost \"turn=x\" is not understood"},
        {"turn=-1", "cost turn is out of range; it may be 0 to 1000"},          {"turn=1001", "cost turn is out of range"},   {"turn=nan", "cost turn is out of range"},
        {"turn=1,,", "cost \"\" is not understood"},                            {"=3", "unknown cost \"\""}};
    for (const auto& [text, message] : bad) {
        CAPTURE(text);
        const auto read = Costs().with(text);
        REQUIRE_FALSE(read);
        CHECK_MESSAGE(read.error().message.starts_with(message), read.error().message);
    }
}

TEST_CASE("hand travel, stretch, leaps, turns and the neck's region of a finished line cost what can be counted on its grips") {
    for (const char* name : {"blues", "ferry-at-noon", "cycle-of-dominants", "waltz-steps"}) {
        const Line walked = line(*library_chart(name));
        const auto hand = [](const LineBeat& beat) {
            int lowest = 99;
            for (int string = 1; string <= 6; ++string)
                if (const auto fret = beat.grip.fret(StringNumber(string)); fret && fret->number() > 0) lowest = std::min(lowest, fret->number());
            return lowest == 99 ? 0 : lowest;
        };
        std::int64_t sum = 0, counted = 0;
        int way = 0;
        for (std::size_t i = 0; i < walked.beats.size(); ++i) {
            const LineBeat& beat = walked.beats[i];
            const auto& items = beat.costs.hundredths;
            sum += beat.costs.total();
            counted += items[static_cast<std::size_t>(Cost::other_strings)] + items[static_cast<std::size_t>(Cost::other_bass)] + items[static_cast<std::size_t>(Cost::repeated_bar)];
            counted += 50 * beat.grip.stretch() + 300 * std::max(0, hand(beat) - 12);
            if (i == 0) continue;
            const int leap = beat.notes[0].midi().number() - walked.beats[i - 1].notes[0].midi().number();
            counted += 100 * std::abs(hand(beat) - hand(walked.beats[i - 1]));
            counted += 50 * std::max(0, std::abs(leap) - 2);
            const int now = leap > 0 ? 1 : -1;
            counted += way != 0 && now != way ? 200 : 0;
            way = now;
            CHECK(items[static_cast<std::size_t>(Cost::octave_leap)] == 0);
        }
        CHECK(sum == walked.hundredths);
        CHECK(counted == walked.hundredths);
    }
}

TEST_CASE("a dear cost is avoided: turning, leaving the region, repeating a bar") {
    const Chart over = *library_chart("cycle-of-dominants");
    const auto count = [&](const char* costs, Cost cost) {
        LineSettings settings;
        settings.costs = *Costs().with(costs);
        std::int64_t beats = 0;
        for (const LineBeat& beat : line(over, settings).beats) beats += beat.costs.hundredths[static_cast<std::size_t>(cost)] > 0;
        return beats;
    };
    CHECK(count("turn=20", Cost::turn) < count("turn=0.01", Cost::turn));
    CHECK(count("region=50", Cost::region) == 0);
    CHECK(count("repeated-bar=50", Cost::repeated_bar) == 0);
    CHECK(count("repeated-bar=0.01", Cost::repeated_bar) > 0);
    CHECK(count("other-bass=50", Cost::other_bass) < count("other-bass=0.01", Cost::other_bass));
}
