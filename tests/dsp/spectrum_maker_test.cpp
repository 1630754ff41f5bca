// Scale and places of spectra: a sine of amplitude a reads a at its frequency, whatever the length of the stretch (Harris, Proc. IEEE 66, 1978:
// the Hann window's coherent gain is 1/2, its main lobe 4 bins wide).
#include "dsp/spectrum_maker.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <numbers>

#include "support/alloc_count.h"

using namespace gripline::dsp;

namespace {

struct Bench {
    History history{16384};
    SpectrumMaker maker;
    std::unique_ptr<Spectrum> spectrum = std::make_unique<Spectrum>();

    void fill(double hz, double amplitude, std::size_t frames) {
        for (std::size_t i = 0; i < frames; ++i)
            history.push(static_cast<float>(amplitude * std::sin(2.0 * std::numbers::pi * hz * static_cast<double>(i) / kAnalysisRateHz + 0.4)));
    }
    const Spectrum& of(std::int64_t from, std::int64_t to) {
        maker.make(history, from, to, *spectrum);
        return *spectrum;
    }
};

}  // namespace

TEST_CASE("a sine reads its amplitude and stands at its frequency, for windows from 50 ms to the longest") {
    for (const double hz : {82.41, 110.0, 329.63, 1000.0, 2637.0, 4000.0}) {
        for (const std::int64_t length : {1080, 1920, 3000, 4096}) {
            if (hz * static_cast<double>(length) / kAnalysisRateHz < 5.0) continue;  // fewer turns than the main lobe is wide: both signs of frequency overlap
            CAPTURE(hz);
            CAPTURE(length);
            Bench bench;
            bench.fill(hz, 0.25, 12000);
            const auto& spectrum = bench.of(6000, 6000 + length);
            const auto top = std::max_element(spectrum.begin(), spectrum.end());
            CHECK(std::abs(static_cast<double>(top - spectrum.begin()) * kBinHz - hz) <= 0.5 * kBinHz + 1e-3 * hz);
            // Half a bin of the grid beside the peak of a window of full length loses 0.36 dB of Hann's 1.42 dB at its own half bin: -15 %.
            CHECK(*top <= 0.2525F);
            CHECK(*top >= 0.25F * 0.845F);
        }
    }
}

TEST_CASE("a sine on a bin reads its amplitude to a thousandth") {
    Bench bench;
    bench.fill(100 * kBinHz, 0.5, 12000);
    CHECK(std::abs(bench.of(4000, 8096)[100] - 0.5F) < 5e-4F);
}

TEST_CASE("four bins away a Hann window has fallen by 45 dB at least") {
    Bench bench;
    bench.fill(200.3 * kBinHz, 1.0, 12000);
    const auto& spectrum = bench.of(4000, 8096);
    for (std::size_t b = 0; b < spectrum.size(); ++b)
        if (std::abs(static_cast<double>(b) - 200.3) > 4.0) REQUIRE(spectrum[b] < 0.0056F);
}

TEST_CASE("an empty or reversed stretch is silent, and so is silence") {
    Bench bench;
    bench.fill(440.0, 0.5, 5000);
    for (const float x : bench.of(3000, 3000)) REQUIRE(x == 0.0F);
    for (const float x : bench.of(3000, 2000)) REQUIRE(x == 0.0F);
    Bench silent;
    silent.fill(440.0, 0.0, 5000);
    for (const float x : silent.of(0, 4096)) REQUIRE(x == 0.0F);
}

TEST_CASE("a stretch is looked at alone: what stands outside it does not matter, and nothing is allocated") {
    Bench clean, dirty;
    for (int i = 0; i < 9000; ++i) {
        const float inside = static_cast<float>(std::sin(0.1 * i));
        clean.history.push(i >= 4000 && i < 6000 ? inside : 0.0F);
        dirty.history.push(i >= 4000 && i < 6000 ? inside : 0.9F);
    }
    CHECK(clean.of(4000, 6000) == dirty.of(4000, 6000));
    gripline::test::AllocCount count;
    (void)clean.of(4000, 6000);
    CHECK(count.here() == 0);
}
