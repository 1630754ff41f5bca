// Delays of clicks and claps in sound made with known delays, under noise, hum, a guitar and reflections.
#include "audio/click_delay.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

#include "audio/metronome.h"
#include "audio/noise.h"
#include "audio/strum.h"
#include "support/sweep.h"

using namespace gripline;

namespace {

std::vector<double> uneven_starts() {
    std::vector<double> out;
    double at_s = 0.6;
    for (const double gap_s : {0.0, 0.71, 0.83, 0.62, 0.94, 0.68, 0.88, 0.65, 0.79, 0.74}) out.push_back(at_s += gap_s);
    return out;
}

double rms(const std::vector<float>& sound) {
    double squares = 0.0;
    for (const float each : sound) squares += static_cast<double>(each) * each;
    return std::sqrt(squares / static_cast<double>(sound.size()));
}

/// Clicks at the starts, each delayed by delay_ms + jitter, with even noise so many dB below the click's own root mean square.
std::vector<float> recording(int rate_hz, double delay_ms, double jitter_ms, double noise_below_db, double gain = 1.0) {
    const auto click = render_click(rate_hz, false);
    std::vector<float> out(static_cast<std::size_t>(10 * rate_hz), 0.0F);
    Noise noise(7);
    const double level = gain * rms(click) * std::pow(10.0, -noise_below_db / 20.0) / 0.577;
    for (float& each : out) each = static_cast<float>(level * noise.next());
    std::mt19937 chance(3);
    std::normal_distribution<double> normal;
    for (const double start_s : uneven_starts()) {
        const auto at = static_cast<std::size_t>(std::lround((start_s + (delay_ms + jitter_ms * normal(chance)) / 1000.0) * rate_hz));
        for (std::size_t i = 0; i < click.size(); ++i) out[at + i] += static_cast<float>(gain * click[i]);
    }
    return out;
}

}  // namespace

TEST_CASE("A delay is found to a tenth of a millisecond, at every rate, at any level, from early to a third of a second, in noise as loud as the click") {
    for (const int rate_hz : {44100, 48000, 96000})
        for (const double delay_ms : {-40.0, 0.0, 7.3, 23.5, 180.0, 380.0})
            for (const double below_db : {60.0, 20.0, 0.0}) {
                if (test::kSanitized && (rate_hz != 44100 || below_db != 20.0)) continue;
                CAPTURE(rate_hz);
                CAPTURE(delay_ms);
                CAPTURE(below_db);
                const auto found = find_clicks(recording(rate_hz, delay_ms, 0.0, below_db, 0.01), rate_hz, uneven_starts());
                CHECK(found.found == 10);
                CHECK(std::abs(found.delay_ms - delay_ms) <= 0.1);
                CHECK(found.spread_ms < 0.2);
                CHECK_FALSE(check_delays(found, kClickLimits).has_value());
            }
}

TEST_CASE("A spread delay is told by its spread, and refused beyond two milliseconds") {
    const auto little = find_clicks(recording(48000, 30.0, 1.0, 40.0), 48000, uneven_starts());
    CHECK(little.found == 10);
    CHECK(little.spread_ms > 0.4);
    CHECK(std::abs(little.delay_ms - 30.0) < 1.0);
    CHECK_FALSE(check_delays(little, kClickLimits).has_value());
    const auto much = find_clicks(recording(48000, 30.0, 12.0, 40.0), 48000, uneven_starts());
    const auto refused = check_delays(much, kClickLimits);
    REQUIRE(refused.has_value());
    CHECK(refused->message.find("ms apart") != std::string::npos);
}

TEST_CASE("Hum, and a guitar 12 dB louder than the click, do not move it") {
    auto sound = recording(48000, 21.0, 0.0, 50.0);
    for (std::size_t i = 0; i < sound.size(); ++i) sound[i] += 0.2F * static_cast<float>(std::sin(2.0 * std::numbers::pi * 50.0 * static_cast<double>(i) / 48000.0));
    auto strum = plan_strum(Grip::parse("8x89xx").value(), Tuning());
    REQUIRE(strum.ok());
    const auto guitar = render_strum(*strum, 48000, 2.0, -12.0);
    for (int k = 0; k < 4; ++k)
        for (std::size_t i = 0; i < guitar.size(); ++i) sound[96000 * static_cast<std::size_t>(k) + 40000 + i] += guitar[i];
    const auto found = find_clicks(sound, 48000, uneven_starts());
    CHECK(found.found >= 9);
    CHECK(std::abs(found.delay_ms - 21.0) <= 0.1);
}

TEST_CASE("A reflection that is louder than the sound itself is not taken for it") {
    auto sound = recording(48000, 15.0, 0.0, 50.0);
    const auto again = sound;
    const std::size_t later = 48 * 25;  // 25 ms
    for (std::size_t i = later; i < sound.size(); ++i) sound[i] += 1.3F * again[i - later];
    CHECK(std::abs(find_clicks(sound, 48000, uneven_starts()).delay_ms - 15.0) <= 0.1);
}

TEST_CASE("Nothing but noise, silence, or too short a recording: nothing is found, and the reason is told") {
    std::vector<float> noise(480000);
    for (std::uint32_t seed = 1; seed <= 20; seed += test::kSweepStep) {
        Noise source(seed);
        for (float& each : noise) each = 0.05F * source.next();
        const auto found = find_clicks(noise, 48000, uneven_starts());
        CHECK(found.found == 0);
        REQUIRE(check_delays(found, kClickLimits).has_value());
    }
    for (const std::size_t frames : {std::size_t{0}, std::size_t{1}, std::size_t{3000}, std::size_t{480000}}) {
        const std::vector<float> silence(frames, 0.0F);
        CHECK(find_clicks(silence, 48000, uneven_starts()).found == 0);
        CHECK(find_claps(silence, 48000, uneven_starts(), {-200.0, 400.0}).found == 0);
    }
    CHECK(check_delays(find_clicks(noise, 48000, uneven_starts()), kClickLimits)->message == "0 of 10 were heard, 7 are needed");
}

TEST_CASE("Claps: their rise is found to two milliseconds; a player's spread is allowed up to 30 ms") {
    for (const double spread_ms : {0.0, 15.0, 90.0}) {
        CAPTURE(spread_ms);
        std::vector<float> sound(480000);
        Noise room(5), hands(9);
        for (float& each : sound) each = 0.0005F * room.next();
        std::mt19937 chance(11);
        std::normal_distribution<double> normal;
        std::vector<double> true_ms;
        for (const double start_s : uneven_starts()) {
            true_ms.push_back(35.0 + spread_ms * std::clamp(normal(chance), -1.8, 1.8));
            const auto at = static_cast<std::size_t>((start_s + true_ms.back() / 1000.0) * 48000.0);
            for (std::size_t i = 0; i < 2400; ++i) sound[at + i] += 0.3F * hands.next() * static_cast<float>(std::exp(-static_cast<double>(i) / 300.0));
        }
        const auto found = find_claps(sound, 48000, uneven_starts(), {-200.0, 300.0});
        CHECK(found.found == 10);
        for (std::size_t i = 0; i < 10; ++i) {
            REQUIRE(found.single_ms[i].has_value());
            CHECK(std::abs(*found.single_ms[i] - true_ms[i]) <= 2.0);
        }
        CHECK(check_delays(found, kClapLimits).has_value() == (spread_ms > 30.0));
    }
}
