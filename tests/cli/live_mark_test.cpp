// One strum of the built-in player through the listener, as from a sound card.
#include "cli/live_mark.h"

#include <doctest/doctest.h>

#include "audio/player_source.h"

using namespace gripline;

TEST_CASE("a strum that is asked for is marked live; without one the patience ends unheard") {
    auto owned = std::make_unique<PlayerSource>();
    PlayerSource* const player = owned.get();
    Listener listener(std::move(owned));
    listener.start();
    Target target;
    target.grip = Grip::parse("3x23xx").value();
    const CaseAnswer nothing = mark_one_live(listener, target, {.from_s = 0.0, .patience_s = 0.4});
    CHECK_FALSE(nothing.any_strum);
    CHECK(nothing.error.empty());
    CHECK(nothing.verdict.kind == VerdictKind::unheard);
    REQUIRE(player->strum(*target.grip, target.tuning).ok());
    const CaseAnswer right = mark_one_live(listener, target, {.from_s = 0.0, .patience_s = 10.0});
    CHECK(right.any_strum);
    CHECK(right.verdict.kind == VerdictKind::right);
}
