// Muted strums are found, each once and near its start; nothing that rings is one.
#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <vector>

#include "audio/metronome.h"
#include "audio/noise.h"
#include "dsp/muted_strum.h"
#include "dsp/strums.h"
#include "support/alloc_count.h"

using namespace gripline;
using namespace gripline::test;

namespace {

struct Muting {
    int strings = 6;
    double spread_s = 0.02;
    double fall_s = 0.05;   ///< 60 dB, of a damped string (laid-on hands: 0.02 to 0.12)
    double peak_db = -18.0;
    double noise_db = -75.0;
    bool down = true;
};

/// Strings of a guitar plucked one after the other at `at_s`, each damped as it is plucked.
void muted_strum(std::vector<float>& take, double at_s, const Muting& how, int rate_hz, std::uint32_t seed) {
    std::vector<float> one(static_cast<std::size_t>(0.6 * rate_hz), 0.0F);
    const Tuning tuning;
    for (int i = 0; i < how.strings; ++i) {
        const int place = how.down ? i : how.strings - 1 - i;
        PluckedString string({.rate_hz = rate_hz});
        string.pluck(frequency_hz(tuning.open(StringNumber(6 - i)), 440.0), 0.05, 0.7, seed * 17 + static_cast<std::uint32_t>(i));
        string.damp(how.fall_s);
        const auto from = static_cast<std::size_t>(how.spread_s * place / std::max(1, how.strings - 1) * rate_hz);
        string.process(std::span(one).subspan(from));
    }
    float peak = 1e-9F;
    for (const float each : one) peak = std::max(peak, std::fabs(each));
    const float gain = static_cast<float>(std::pow(10.0, how.peak_db / 20.0)) / peak;
    const auto start = static_cast<std::size_t>(at_s * rate_hz);
    for (std::size_t i = 0; i < one.size() && start + i < take.size(); ++i) take[start + i] += gain * one[i];
}

std::vector<float> quiet(double length_s, int rate_hz, double noise_db) {
    std::vector<float> take(static_cast<std::size_t>(length_s * rate_hz));
    Noise noise(7);
    for (float& each : take) each = static_cast<float>(std::pow(10.0, noise_db / 20.0)) * std::sqrt(3.0F) * noise.next();
    return take;
}

std::vector<dsp::MutedStrum> found_in(std::span<const float> take, int rate_hz = 48000, std::size_t block = 256) {
    dsp::MutedStrumDetector detector({.rate_hz = rate_hz});
    std::vector<dsp::MutedStrum> out;
    dsp::MutedStrum one;
    for (std::size_t i = 0; i < take.size(); i += block) {
        detector.process(take.subspan(i, std::min(block, take.size() - i)));
        while (detector.take(one))
            if (one.muted) out.push_back(one);
    }
    return out;
}

}  // namespace

TEST_CASE("a muted strum of three to six strings, 5 to 60 ms, soft and loud, down and up, is found once, within 15 ms of its start") {
    for (const int strings : {3, 4, 6}) {
        for (const double spread_s : {0.005, 0.01, 0.03, 0.06}) {
            for (const double fall_s : {0.03, 0.05, 0.1}) {
                for (const double peak_db : {-45.0, -20.0, -3.0}) {
                    CAPTURE(strings);
                    CAPTURE(spread_s);
                    CAPTURE(fall_s);
                    CAPTURE(peak_db);
                    auto take = quiet(1.6, 48000, -85.0);
                    muted_strum(take, 0.7, {.strings = strings, .spread_s = spread_s, .fall_s = fall_s, .peak_db = peak_db, .down = strings != 4}, 48000, 3);
                    const auto found = found_in(take);
                    REQUIRE(found.size() == 1);
                    CHECK(std::abs(found[0].at_s - 0.7) < 0.015);
                }
            }
        }
    }
}

TEST_CASE("muted strums 0.2 to 0.9 s apart are as many as were played, at every rate and however the sound is cut") {
    for (const int rate_hz : {8000, 16000, 44100, 48000, 96000, 192000}) {
        for (const double gap_s : {0.2, 0.35, 0.9}) {
            CAPTURE(rate_hz);
            CAPTURE(gap_s);
            auto take = quiet(3.5, rate_hz, -75.0);
            for (int i = 0; i < 3; ++i) muted_strum(take, 0.6 + i * gap_s, {}, rate_hz, static_cast<std::uint32_t>(i + 1));
            const auto found = found_in(take, rate_hz);
            REQUIRE(found.size() == 3);
            for (std::size_t i = 0; i < 3; ++i) CHECK(std::abs(found[i].at_s - 0.6 - static_cast<double>(i) * gap_s) < 0.015);
            const auto cut = found_in(take, rate_hz, 37);
            REQUIRE(cut.size() == 3);
            for (std::size_t i = 0; i < 3; ++i) {
                CHECK(cut[i].at_s == found[i].at_s);
                CHECK(cut[i].level_db == found[i].level_db);
                CHECK(cut[i].shape_db == found[i].shape_db);
            }
        }
    }
}

TEST_CASE("no strum that rings is a muted one: grips on all strings of the neck, struck short or left to ring, walked slowly and fast") {
    for (const char* grip : {"3x23xx", "8x89xx", "12-x-10-12-x-x", "1x01xx", "x32010", "320003", "x3545x", "xx0232"}) {
        for (const double ring_s : {0.12, 0.2, 0.35, 2.0}) {
            for (const double spread_s : {0.0, 0.02, 0.06}) {
                CAPTURE(grip);
                CAPTURE(ring_s);
                CAPTURE(spread_s);
                CHECK(found_in(play({{.at_s = 0.6, .grip = grip, .spread_s = spread_s, .ring_s = ring_s}}, 1.6)).empty());
            }
        }
        std::vector<PlannedStrum> walk;
        for (int i = 0; i < 16; ++i) walk.push_back({.at_s = 0.5 + i * 0.25, .grip = grip, .ring_s = i < 8 ? 0.15 : 0.24});
        CHECK(found_in(play(walk, 5.0)).empty());
    }
}

TEST_CASE("tones, noise that begins or ends, speech-like swells and the tool's own clicks are no muted strums") {
    const int rate_hz = 48000;
    auto take = quiet(8.0, rate_hz, -70.0);
    Noise noise(5);
    const auto add = [&](double from_s, double to_s, auto sample) {
        for (auto i = static_cast<std::size_t>(from_s * rate_hz); i < static_cast<std::size_t>(to_s * rate_hz); ++i) take[i] += static_cast<float>(sample((static_cast<double>(i) / rate_hz) - from_s));
    };
    const auto sine = [](double hz, double t_s) { return std::sin(2.0 * std::numbers::pi * hz * t_s); };
    add(0.5, 0.66, [&](double t) { return 0.1 * std::pow(std::sin(std::numbers::pi * t / 0.16), 2.0) * sine(880.0, t); });  // an answer tone
    add(1.2, 2.2, [&](double) { return 0.05 * static_cast<double>(noise.next()); });
    add(3.0, 3.3, [&](double t) { return 0.1 * std::pow(std::sin(std::numbers::pi * t / 0.3), 2.0) * static_cast<double>(noise.next()); });  // a squeak's length
    add(4.0, 4.5, [&](double t) { return 0.1 * std::exp(-t / 0.2) * sine(220.0, t) * std::min(1.0, t / 0.005); });  // a beep that dies away
    const auto click = render_click(rate_hz, false, -12.0);
    for (std::size_t i = 0; i < click.size(); ++i) take[5 * rate_hz + i] += click[i];
    for (std::size_t i = 0; i < click.size(); ++i) take[static_cast<std::size_t>(5.6 * rate_hz) + i] += click[i];
    CHECK(found_in(take).empty());
}

TEST_CASE("what is not decided yet is told: from the start of a burst until it has died away") {
    auto take = quiet(2.0, 48000, -75.0);
    muted_strum(take, 0.7, {}, 48000, 1);
    dsp::MutedStrumDetector detector;
    dsp::MutedStrum one;
    double told_s = 0.0;
    for (std::size_t i = 0; i + 256 <= take.size() && told_s == 0.0; i += 256) {
        detector.process(std::span(take).subspan(i, 256));
        const double heard_s = static_cast<double>(i + 256) / 48000.0;
        if (detector.take(one)) told_s = heard_s;
        else if (heard_s > 0.74) CHECK(detector.decided_s() < 0.7);
        else if (heard_s < 0.7) CHECK(detector.decided_s() > heard_s - 0.04);
    }
    CHECK(told_s < 0.7 + 0.22);
    CHECK(detector.decided_s() > 0.72);
    // A grip that rings is decided sooner than the judge settles it.
    const auto rings = play({{.at_s = 0.7, .grip = "8x89xx"}}, 1.6);
    dsp::MutedStrumDetector other;
    other.process(std::span(rings).first(static_cast<std::size_t>(0.83 * 48000)));
    CHECK(other.decided_s() > 0.72);
}

TEST_CASE("listening for muted strums allocates nothing, takes NaN for silence, and starts anew after reset()") {
    auto take = quiet(2.0, 48000, -75.0);
    muted_strum(take, 0.5, {}, 48000, 1);
    const auto wanted = found_in(take);
    take[200] = std::nanf("");
    dsp::MutedStrumDetector detector;
    const AllocCount allocations;
    detector.process(take);
    dsp::MutedStrum one;
    REQUIRE(detector.take(one));
    CHECK_FALSE(detector.take(one));
    CHECK(allocations.here() == 0);
    detector.reset();
    CHECK_FALSE(detector.take(one));
    take[200] = 0.0F;
    detector.process(take);
    REQUIRE(detector.take(one));
    CHECK(one.at_s == wanted.at(0).at_s);
}
