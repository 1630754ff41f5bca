// Strums are found once, at the instant their first string sounds: spreads, rates, tempos, levels.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "dsp/strums.h"

using namespace gripline;
using namespace gripline::test;

namespace {

/// The shells of the C dominant-seventh family, one a beat (trade facts: common practice, no source).
const char* const kWalk[] = {"8x89xx", "10-x-9-10-x-x", "12-x-10-12-x-x", "1x01xx", "3x23xx", "4x34xx", "6x55xx", "7x67xx"};

std::vector<PlannedStrum> walk(double bpm, int beats, double ring_share, double spread_s = 0.015) {
    std::vector<PlannedStrum> out;
    for (int i = 0; i < beats; ++i)
        out.push_back({.at_s = 0.5 + i * 60.0 / bpm, .grip = kWalk[i % 8], .spread_s = spread_s, .ring_s = ring_share * 60.0 / bpm, .level_db = i % 2 == 0 ? 0.0 : 2.0});
    return out;
}

/// Largest distance between a strum played and the one found in its place; 9 when their numbers differ.
double worst_error(const std::vector<PlannedStrum>& played, const std::vector<double>& found) {
    if (played.size() != found.size()) return 9.0;
    double worst = 0.0;
    for (std::size_t i = 0; i < played.size(); ++i) worst = std::max(worst, std::abs(found[i] - played[i].at_s));
    return worst;
}

}  // namespace

TEST_CASE("a strum of 5 to 60 ms, down or up, is one event at its first string") {
    for (const double spread_s : {0.0, 0.005, 0.015, 0.03, 0.045, 0.06}) {
        for (const bool down : {true, false}) {
            for (const char* grip : {"3x23xx", "8x89xx", "1x01xx", "x32010", "320003"}) {
                CAPTURE(spread_s);
                CAPTURE(down);
                CAPTURE(grip);
                const std::vector<PlannedStrum> one{{.at_s = 0.7, .grip = grip, .spread_s = spread_s, .down = down}};
                CHECK(worst_error(one, onsets(evidence_of(play(one, 1.6)))) < 0.010);
            }
        }
    }
}

TEST_CASE("every rate from 8 to 192 kHz finds the same strum") {
    const std::vector<PlannedStrum> two{{.at_s = 0.6}, {.at_s = 1.3, .grip = "8x89xx"}};
    for (const int rate_hz : {8000, 11025, 16000, 22050, 32000, 44100, 48000, 88200, 96000, 176400, 192000}) {
        CAPTURE(rate_hz);
        const auto evidence = evidence_of(play(two, 1.9, rate_hz), rate_hz);
        CHECK(worst_error(two, onsets(evidence)) < 0.010);
        for (const auto& e : evidence) CHECK(std::abs(e.tuning_cents) < 5.0);  // the take is in tune
    }
}

TEST_CASE("a walk at 240 beats a minute: every strum once, 95 in 100 within 10 ms, ringing into the next or struck short") {
    for (const double ring_share : {0.6, 0.8, 1.5}) {
        CAPTURE(ring_share);
        const auto played = walk(240.0, 100, ring_share);
        const auto found = onsets(evidence_of(play(played, 26.0)));
        REQUIRE(found.size() == 100);
        int off = 0;
        for (std::size_t i = 0; i < 100; ++i) off += std::abs(found[i] - played[i].at_s) > 0.010 ? 1 : 0;
        CHECK(off <= 5);
        CHECK(worst_error(played, found) < 0.020);
    }
}

TEST_CASE("walks from 60 to 200 beats a minute likewise") {
    for (const double bpm : {60.0, 100.0, 120.0, 160.0, 200.0}) {
        CAPTURE(bpm);
        const auto played = walk(bpm, 16, 0.8, 0.03);
        CHECK(worst_error(played, onsets(evidence_of(play(played, 1.0 + 16 * 60.0 / bpm)))) < 0.010);
    }
}

TEST_CASE("loud and quiet strums are found at the same place") {
    for (const double level_db : {-30.0, -20.0, -10.0, 0.0, 6.0}) {
        CAPTURE(level_db);
        const std::vector<PlannedStrum> one{{.at_s = 0.7, .level_db = level_db}};
        CHECK(worst_error(one, onsets(evidence_of(play(one, 1.5, 48000, 1e-5)))) < 0.010);
    }
}

TEST_CASE("a click without a ring is no strum") {
    std::vector<float> take(48000, 0.0F);
    for (std::size_t i = 0; i < 96; ++i) take[24000 + i] = (i % 16 < 8 ? 0.3F : -0.3F) * (1.0F - static_cast<float>(i) / 96.0F);  // 2 ms
    CHECK(onsets(evidence_of(take)).empty());
}
