// The resampler against the sine that should come out: right frequency, right phase, flat pass band, no aliases, whatever the input rate.
#include "dsp/resampler.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "support/alloc_count.h"
#include "support/tone.h"

using gripline::dsp::Resampler;
using gripline::dsp::ResamplerConfig;

namespace {

constexpr int kOut_hz = 12000;
constexpr int kRates_hz[] = {8000, 11025, 12000, 16000, 22050, 24000, 32000, 44100, 48000, 88200, 96000, 176400, 192000};

std::vector<float> sine(double hz, double rate_hz, double length_s, double phase = 0.3) {
    std::vector<float> out(static_cast<std::size_t>(length_s * rate_hz));
    for (std::size_t i = 0; i < out.size(); ++i)
        out[i] = static_cast<float>(std::sin(2.0 * std::numbers::pi * hz * static_cast<double>(i) / rate_hz + phase));
    return out;
}

std::vector<float> resampled(Resampler& resampler, const std::vector<float>& in) {
    std::vector<float> out, some(resampler.max_out());
    for (const float frame : in) {
        const std::size_t count = resampler.push(frame, some);
        out.insert(out.end(), some.begin(), some.begin() + static_cast<std::ptrdiff_t>(count));
    }
    return out;
}

std::vector<float> resampled(int from_hz, const std::vector<float>& in) {
    Resampler resampler({.from_hz = from_hz, .to_hz = kOut_hz});
    return resampled(resampler, in);
}

/// Highest difference from the sine, after the filter has run in.
double error_against_sine(const std::vector<float>& out, double hz, double phase = 0.3) {
    double worst = 0.0;
    for (std::size_t i = 1500; i < out.size(); ++i)
        worst = std::max(worst, std::abs(out[i] - std::sin(2.0 * std::numbers::pi * hz * static_cast<double>(i) / kOut_hz + phase)));
    return worst;
}

double pass_hz(int rate_hz) { return std::min(4300.0, 0.45 * rate_hz); }

}  // namespace

TEST_CASE("a sine at any input rate comes out at its frequency, its level and its instant") {
    for (const int rate_hz : kRates_hz) {
        for (const double hz : {41.2, 82.41, 440.0, 1318.51, 3300.0}) {
            CAPTURE(rate_hz);
            CAPTURE(hz);
            const auto out = resampled(rate_hz, sine(hz, rate_hz, 0.5));
            REQUIRE(out.size() > 4000);
            // The design is 80 dB; a sample late or early at 440 Hz would differ by 0.2.
            CHECK(error_against_sine(out, hz) < 5e-4);
        }
    }
}

TEST_CASE("the pass band is flat to a tenth of a decibel up to its edge") {
    for (const int rate_hz : kRates_hz) {
        for (const double share : {0.05, 0.3, 0.6, 0.8, 0.9, 1.0}) {
            const double hz = share * pass_hz(rate_hz);
            CAPTURE(rate_hz);
            CAPTURE(hz);
            const auto out = resampled(rate_hz, sine(hz, rate_hz, 0.5));
            const double level = gripline::test::rms_db(std::span(out).subspan(1500)) + 10.0 * std::log10(2.0);
            CHECK(std::abs(level) < 0.1);
        }
    }
}

TEST_CASE("what would fold into the pass band is 75 dB down") {
    for (const int rate_hz : kRates_hz) {
        for (double hz = kOut_hz - 4300.0; hz < 0.5 * rate_hz; hz *= 1.13) {
            CAPTURE(rate_hz);
            CAPTURE(hz);
            const auto out = resampled(rate_hz, sine(hz, rate_hz, 0.3));
            double folded = std::fmod(hz, kOut_hz);
            if (folded > kOut_hz / 2.0) folded = kOut_hz - folded;
            if (folded > pass_hz(rate_hz)) continue;
            CHECK(gripline::test::rms_db(std::span(out).subspan(1500)) < -75.0);
        }
    }
}

TEST_CASE("images of a low rate are 75 dB down") {
    // From 8 kHz up to 12 kHz a sine at f has images at 8000 - f.
    const double hz = 3000.0;
    auto out = resampled(8000, sine(hz, 8000, 0.5));
    double worst = 0.0;
    const auto steady = std::span(out).subspan(1500, 4096);
    for (double probe = 4400.0; probe < 5900.0; probe += 25.0)
        worst = std::max(worst, std::abs(gripline::test::fourier_at(steady, probe, kOut_hz)) * 4.0 / 4096.0);
    CHECK(20.0 * std::log10(worst) < -75.0);
}

TEST_CASE("a constant stays itself") {
    for (const int rate_hz : kRates_hz) {
        const auto out = resampled(rate_hz, std::vector<float>(static_cast<std::size_t>(rate_hz), 0.5F));
        for (std::size_t i = 1500; i < out.size(); ++i) REQUIRE(std::abs(out[i] - 0.5F) < 1e-4F);
    }
}

TEST_CASE("an output comes as soon as the stated delay of input has followed its instant, and none is left out") {
    for (const int rate_hz : kRates_hz) {
        CAPTURE(rate_hz);
        Resampler resampler({.from_hz = rate_hz, .to_hz = kOut_hz});
        std::vector<float> some(resampler.max_out());
        std::size_t made = 0;
        bool on_time = true;
        for (std::size_t taken = 1; taken <= 30000; ++taken) {
            made += resampler.push(0.0F, some);
            // Output k stands at input frame k * from / to.
            const double ripe = static_cast<double>(taken) - 1.0 - static_cast<double>(resampler.delay_frames());
            const double due = ripe < 0.0 ? 0.0 : std::floor(ripe * kOut_hz / rate_hz) + 1.0;
            on_time = on_time && std::abs(static_cast<double>(made) - due) <= std::ceil(static_cast<double>(kOut_hz) / rate_hz);
        }
        CHECK(on_time);
        CHECK(static_cast<double>(resampler.delay_frames()) / rate_hz < 0.02);
    }
}

TEST_CASE("after reset the same input gives the same output, and nothing is allocated") {
    Resampler resampler({.from_hz = 44100, .to_hz = kOut_hz});
    const auto in = sine(330.0, 44100, 0.1);
    const auto first = resampled(resampler, in);
    resampler.reset();
    CHECK(resampled(resampler, in) == first);
    std::vector<float> some(resampler.max_out());
    gripline::test::AllocCount count;
    for (const float frame : in) resampler.push(frame, some);
    CHECK(count.here() == 0);
}
