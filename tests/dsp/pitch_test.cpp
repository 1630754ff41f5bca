// The pitch of one string: synthetic stiff strings (Fletcher 1964), our own plucked strings (Karplus & Strong 1983), and the grammar.
#include "dsp/pitch.h"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>

#include "audio/plucked_string.h"
#include "support/alloc_count.h"
#include "support/stiff_string.h"
#include "support/sweep.h"
#include "support/tone.h"

using namespace gripline;
using namespace gripline::test;
using dsp::PitchEstimator;
using dsp::PitchReading;

namespace {

constexpr int kE2 = 40, kE6 = 88, kLowA = 33;

double note_hz(int midi, double a4_hz = 440.0) { return a4_hz * std::exp2((midi - 69) / 12.0); }  // ISO 16:1975, MIDI 1.0

std::vector<PitchReading> readings(const std::vector<float>& frames, int rate_hz = 48000, std::size_t block = 256) {
    PitchEstimator estimator({.rate_hz = rate_hz});
    std::vector<PitchReading> out;
    PitchReading reading;
    for (std::size_t i = 0; i < frames.size(); i += block) {
        estimator.process(std::span(frames).subspan(i, std::min(block, frames.size() - i)));
        while (estimator.take(reading)) out.push_back(reading);
    }
    return out;
}

struct Measured {
    double worst_cents = 0.0;
    int with_pitch = 0, without = 0;
    double first_s = 9.0;
};

/// Against the truth, from `from_s` on.
Measured measure(const std::vector<PitchReading>& all, double truth_hz, double from_s) {
    Measured out;
    for (const auto& r : all) {
        if (r.at_s < from_s) continue;
        if (r.hz <= 0.0) {
            ++out.without;
            continue;
        }
        ++out.with_pitch;
        out.first_s = std::min(out.first_s, r.at_s);
        out.worst_cents = std::max(out.worst_cents, std::abs(cents(r.hz, truth_hz)));
    }
    return out;
}

std::vector<float> plucked(double hz, double level, int midi, double length_s, int rate_hz = 48000) {
    PluckedString string({.rate_hz = rate_hz});
    string.pluck(hz, level, 0.5, static_cast<std::uint32_t>(midi));
    std::vector<float> out(static_cast<std::size_t>(length_s * rate_hz), 0.0F);
    string.process(std::span(out).subspan(static_cast<std::size_t>(0.2 * rate_hz)));
    add_noise(1e-5, static_cast<std::uint32_t>(midi), out);
    return out;
}

/// A steady string whose first partial is truth_hz, with noise 40 dB below it.
std::vector<float> steady(StiffString string, double truth_hz, double length_s = 0.8) {
    string.f0_hz = truth_hz / std::sqrt(1.0 + string.stiffness);
    std::vector<float> out(static_cast<std::size_t>(length_s * 48000.0), 0.0F);
    add_string(string, 48000.0, out);
    add_noise(0.01 * rms_of(out), string.seed, out);
    return out;
}

}  // namespace

TEST_CASE("every note from E2 to E6 at A = 415, 440, 466, loud and quiet: within 5 cents from the first reading on, which comes within 0.2 s") {
    double worst = 0.0;
    for (int midi = kE2; midi <= kE6; midi += kSweepStep) {  // low strings first
        for (const double a4_hz : {415.0, 440.0, 466.0}) {
            for (const double level : {0.2, 0.004}) {
                CAPTURE(midi);
                CAPTURE(a4_hz);
                CAPTURE(level);
                const auto m = measure(readings(plucked(note_hz(midi, a4_hz), level, midi, 0.8)), note_hz(midi, a4_hz), 0.2);
                CHECK(m.with_pitch >= 3);
                CHECK(m.first_s < 0.4);
                CHECK(m.worst_cents < 5.0);
                worst = std::max(worst, m.worst_cents);
            }
        }
    }
    MESSAGE("plucked strings, E2 to E6: worst reading " << worst << " cents off");
}

TEST_CASE("steady stiff strings with noise 40 dB below: within 1 cent, from the low A of seven strings to E6, whatever the stiffness") {
    double worst = 0.0;
    for (int midi = kLowA; midi <= kE6; midi += kSweepStep) {
        for (const double stiffness : {0.0, 1e-5, 8e-5, 3e-4}) {
            for (const double pick_place : {0.0, 0.13}) {
                CAPTURE(midi);
                CAPTURE(stiffness);
                CAPTURE(pick_place);
                const auto all = readings(steady({.stiffness = stiffness, .pick_place = pick_place, .seed = static_cast<std::uint32_t>(midi)}, note_hz(midi)));
                const auto m = measure(all, note_hz(midi), 0.2);
                CHECK(m.without == 0);
                CHECK(m.worst_cents < 1.0);
                worst = std::max(worst, m.worst_cents);
                if (midi <= 64 && all.back().partials >= 8) CHECK(std::abs(all.back().stiffness - stiffness) < 1e-5 + 0.05 * stiffness);
            }
        }
    }
    MESSAGE("steady stiff strings, A1 to E6: worst reading " << worst << " cents off");
}

TEST_CASE("a weak or absent ground tone does not move the pitch by an octave") {
    for (int midi = kLowA; midi <= 76; midi += kSweepStep) {
        for (const double nothing_below_hz : {120.0, 180.0}) {  // a laptop microphone
            CAPTURE(midi);
            const auto m = measure(readings(steady({.nothing_below_hz = nothing_below_hz, .seed = 5}, note_hz(midi))), note_hz(midi), 0.2);
            CHECK(m.with_pitch > 10);
            CHECK(m.worst_cents < 1.0);
        }
    }
}

TEST_CASE("a string picked at its middle, which has every other partial only, keeps its octave") {
    for (int midi = kE2; midi <= 76; midi += kSweepStep) {
        CAPTURE(midi);
        const auto m = measure(readings(steady({.pick_place = 0.5}, note_hz(midi))), note_hz(midi), 0.2);
        CHECK(m.with_pitch > 10);
        CHECK(m.worst_cents < 1.0);
    }
}

TEST_CASE("hum 24 dB below moves no pitch, and hum alone has none") {
    for (const double mains_hz : {50.0, 60.0}) {
        for (int midi = kE2; midi <= 76; midi += kSweepStep) {
            CAPTURE(midi);
            CAPTURE(mains_hz);
            auto frames = steady({.tilt = 0.6}, note_hz(midi));
            add_hum(mains_hz, 0.1 * 0.063, 48000.0, frames);
            const auto m = measure(readings(frames), note_hz(midi), 0.35);
            CHECK(m.with_pitch > 8);
            CHECK(m.worst_cents < 1.0);
        }
        std::vector<float> hum(48000, 0.0F);
        add_hum(mains_hz, 0.01, 48000.0, hum);
        add_noise(1e-4, 1, hum);
        for (const auto& r : readings(hum)) CHECK(r.hz == 0.0);
    }
}

TEST_CASE("silence, noise and a click have no pitch") {
    std::vector<float> frames(48000, 0.0F);
    for (const auto& r : readings(frames)) CHECK(r.hz == 0.0);
    frames[24000] = 0.9F;
    for (const auto& r : readings(frames)) CHECK(r.hz == 0.0);
    add_noise(0.05, 3, frames);
    int with_pitch = 0;
    for (const auto& r : readings(frames)) with_pitch += r.hz > 0.0 ? 1 : 0;
    CHECK(with_pitch == 0);
}

TEST_CASE("a new pluck is read alone: the string before does not colour it") {
    auto frames = plucked(note_hz(40), 0.2, 40, 2.0);
    const auto next = plucked(note_hz(45), 0.3, 45, 1.0);
    for (std::size_t i = 0; i < 48000; ++i) frames[i + 48000] = next[i] + (i < 9600 ? frames[i + 48000] : 0.0F);  // the hand damps the first as it plays the next
    const auto all = readings(frames);
    std::vector<PitchReading> first, second;
    for (const auto& r : all) (r.at_s < 1.2 ? first : second).push_back(r);
    CHECK(measure(first, note_hz(40), 0.2).worst_cents < 5.0);
    const auto m = measure(second, note_hz(45), 1.2);
    CHECK(m.with_pitch > 8);
    CHECK(m.worst_cents < 5.0);
    CHECK(m.first_s < 1.45);
}

TEST_CASE("every rate from 8 to 192 kHz reads the same string") {
    for (const int rate_hz : {8000, 11025, 16000, 22050, 44100, 48000, 96000, 192000}) {
        for (const int midi : {40, 45, 50, 55, 59, 64}) {
            CAPTURE(rate_hz);
            CAPTURE(midi);
            const auto m = measure(readings(plucked(note_hz(midi), 0.2, midi, 0.8, rate_hz), rate_hz), note_hz(midi), 0.2);
            CHECK(m.with_pitch > 5);
            CHECK(m.worst_cents < 5.0);
        }
    }
}

TEST_CASE("readings do not depend on how the frames are cut, come every 43 ms, and reset begins anew") {
    const auto frames = plucked(note_hz(45), 0.2, 45, 1.0);
    const auto whole = readings(frames, 48000, frames.size());
    REQUIRE(whole.size() == 23);
    const auto same = [&](const std::vector<PitchReading>& other) {
        bool equal = other.size() == whole.size();
        for (std::size_t i = 0; equal && i < whole.size(); ++i)
            equal = whole[i].at_s == other[i].at_s && whole[i].hz == other[i].hz && whole[i].stiffness == other[i].stiffness && whole[i].clarity == other[i].clarity &&
                    whole[i].level_db == other[i].level_db;
        return equal;
    };
    for (const std::size_t block : {1U, 37U, 512U, 5000U}) CHECK(same(readings(frames, 48000, block)));
    for (std::size_t i = 1; i < whole.size(); ++i) CHECK(std::abs(whole[i].at_s - whole[i - 1].at_s - 512.0 / 12000.0) < 1e-9);
    PitchEstimator estimator;
    estimator.process(std::span(frames).first(30000));
    estimator.reset();
    CHECK(estimator.stream_s() == 0.0);
    std::vector<PitchReading> again;
    estimator.process(frames);
    PitchReading reading;
    while (estimator.take(reading)) again.push_back(reading);
    CHECK(same(again));
}

TEST_CASE("nothing is allocated, and samples that are no numbers do no lasting harm") {
    auto frames = plucked(note_hz(45), 0.2, 45, 2.0);
    for (std::size_t i = 30000; i < 31000; ++i) frames[i] = i % 3 == 0 ? std::numeric_limits<float>::quiet_NaN() : (i % 3 == 1 ? 3e38F : std::numeric_limits<float>::infinity());
    PitchEstimator estimator;
    PitchReading reading;
    AllocCount count;
    estimator.process(frames);
    const auto allocations = count.here();
    CHECK(allocations == 0);
    bool finite = true;
    double last_hz = 0.0;
    while (estimator.take(reading)) {
        finite = finite && std::isfinite(reading.hz) && std::isfinite(reading.clarity) && std::isfinite(reading.level_db);
        last_hz = reading.hz;
    }
    CHECK(finite);
    CHECK(std::abs(cents(last_hz, note_hz(45))) < 5.0);
}
