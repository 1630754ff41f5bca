// Bars that are played over and over lead back to their first grip by a last beat of their own.
#include <doctest/doctest.h>

#include <algorithm>

#include "ui/walk_fixture.h"

using namespace gripline;
using namespace gripline::test;

namespace {

const char* const kBack = "7x66xx";  // below the first grip of bar 2

/// Two choruses of bar 2 of two, which would end on 5x45xx.
WalkRunConfig looping() {
    WalkRunConfig config;
    config.steps = TempoSteps(140.0, 0.0);
    config.wishes.choruses = 2;
    config.wishes.bars = {2, 2};
    config.loop_end = [](BarRange bars, bool landing) -> std::optional<LoopEnd> {
        if (landing) return std::nullopt;
        LoopEnd out{bars.last, two_bars().beats[static_cast<std::size_t>(4 * bars.last - 1)]};
        out.beat.beat.target.grip = Grip::parse(kBack).value();
        return out;
    };
    return config;
}

/// How often a grip was asked in the whole walk.
long asked(Walk& walk, const std::string& grip) {
    walk.press(' ');
    REQUIRE(walk.wait_for(WalkState::ended, 15.0));
    CHECK(walk.summary().right == walk.summary().beats);
    const auto& beats = walk.run.hearing()->beats();
    return std::count_if(beats.begin(), beats.end(), [&](const WalkBeat& beat) { return beat.target.grip->text() == grip; });
}

}  // namespace

TEST_CASE("A loop's last beat leads back: it is asked, played and shown ahead") {
    Walk walk(looping());
    CHECK(asked(walk, kBack) == 2);
    Walk other(looping());
    CHECK(asked(other, "5x45xx") == 0);
    Walk looked_at(looping());
    looked_at.press(' ');
    looked_at.wait_until_music((4 + 2.5) * 60.0 / 140.0);  // the third beat
    CHECK(looked_at.shows(std::string("Next Bb6  ") + kBack, 40, 12));
}

TEST_CASE("Bars chosen by key lead back too; the whole chart, a single chorus and the landing keep what they have") {
    WalkRunConfig config = looping();
    config.wishes.bars = {1, 2};
    Walk chosen(config), whole(config);
    chosen.press('f');  // from bar 2 on
    CHECK(asked(chosen, kBack) == 2);
    CHECK(asked(whole, kBack) == 0);
    config = looping();
    config.wishes.choruses = 1;
    Walk once(config);
    CHECK(asked(once, kBack) == 0);
    config = looping();
    config.landing = true;
    Walk landed(config);
    CHECK(asked(landed, kBack) == 0);
}
