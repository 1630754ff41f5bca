// The transform against the definition of the discrete Fourier transform, and KissFFT's two traps: allocating while it works, and touching the input.
#include "dsp/real_fft.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <random>
#include <vector>

#include "support/alloc_count.h"

using gripline::dsp::RealFft;

namespace {

/// X[k] = sum x[n] exp(-2 pi i k n / N), in double precision, no shortcut but a table of the N roots of unity.
std::vector<std::complex<double>> naive(const std::vector<float>& x) {
    const std::size_t size = x.size();
    std::vector<std::complex<double>> root(size), out(size / 2 + 1);
    for (std::size_t i = 0; i < size; ++i) root[i] = std::polar(1.0, -2.0 * std::numbers::pi * static_cast<double>(i) / static_cast<double>(size));
    for (std::size_t k = 0; k < out.size(); ++k)
        for (std::size_t n = 0; n < size; ++n) out[k] += static_cast<double>(x[n]) * root[k * n % size];
    return out;
}

std::vector<float> random_frames(std::size_t size, unsigned seed) {
    std::mt19937 random(seed);
    std::uniform_real_distribution<float> value(-1.0F, 1.0F);
    std::vector<float> out(size);
    for (float& x : out) x = value(random);
    return out;
}

// 256: onsets; 4096: spectra; 8192: pitch; the others have the factors 3 and 5 that the header allows.
constexpr std::size_t kSizes[] = {4, 6, 10, 30, 64, 240, 256, 360, 1000, 1536, 2048, 4096, 8192};

}  // namespace

TEST_CASE("the transform is the discrete Fourier transform at every size that the header allows") {
    for (const std::size_t size : kSizes) {
        CAPTURE(size);
        RealFft fft(size);
        REQUIRE(fft.size() == size);
        REQUIRE(fft.bins() == size / 2 + 1);
        const auto frames = random_frames(size, static_cast<unsigned>(size));
        std::vector<std::complex<float>> bins(fft.bins());
        fft.forward(frames, bins);
        const auto truth = naive(frames);
        double worst = 0.0;
        for (std::size_t k = 0; k < bins.size(); ++k) worst = std::max(worst, std::abs(std::complex<double>(bins[k]) - truth[k]));
        // Single precision errs by about 6e-8 * sqrt(N) * log2(N) on sums of size sqrt(N/3).
        CHECK(worst < 4e-7 * std::sqrt(static_cast<double>(size)) * std::max(1.0, std::log2(static_cast<double>(size))));
    }
}

TEST_CASE("an impulse has a flat spectrum and a constant only bin 0") {
    RealFft fft(256);
    std::vector<float> impulse(256, 0.0F), constant(256, 1.0F);
    impulse[0] = 1.0F;
    std::vector<std::complex<float>> bins(fft.bins());
    fft.forward(impulse, bins);
    for (const auto& bin : bins) CHECK(std::abs(bin - 1.0F) < 1e-6F);
    fft.forward(constant, bins);
    CHECK(std::abs(bins[0] - 256.0F) < 1e-4F);
    for (std::size_t k = 1; k < bins.size(); ++k) CHECK(std::abs(bins[k]) < 1e-4F);
}

TEST_CASE("energy is kept (Parseval)") {
    RealFft fft(4096);
    const auto frames = random_frames(4096, 7);
    std::vector<std::complex<float>> bins(fft.bins());
    fft.forward(frames, bins);
    double time = 0.0, frequency = 0.0;
    for (const float x : frames) time += static_cast<double>(x) * x;
    for (std::size_t k = 0; k < bins.size(); ++k) frequency += (k == 0 || k == 2048 ? 1.0 : 2.0) * std::norm(std::complex<double>(bins[k]));
    CHECK(std::abs(frequency / 4096.0 / time - 1.0) < 1e-6);
}

TEST_CASE("the transform neither allocates nor changes its input, and a moved plan still works") {
    for (const std::size_t size : kSizes) {
        CAPTURE(size);
        RealFft first(size);
        RealFft fft(std::move(first));
        const auto frames = random_frames(size, 3);
        auto copy = frames;
        std::vector<std::complex<float>> once(fft.bins()), again(fft.bins());
        gripline::test::AllocCount count;
        fft.forward(copy, once);
        fft.forward(copy, again);
        const auto allocations = count.here();
        CHECK(allocations == 0);
        CHECK(copy == frames);
        CHECK(once == again);
    }
}
