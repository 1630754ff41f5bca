#include "dsp/spectrum_maker.h"

#include <cmath>
#include <numbers>

namespace gripline::dsp {

namespace {
constexpr std::size_t kTurn = SpectrumMaker::kSize * 8;
constexpr std::int64_t kShortest = 64;  // samples; less is nothing
}

static_assert(static_cast<double>(kAnalysisRateHz) / SpectrumMaker::kSize == kBinHz);
static_assert(kSpectrumBins < SpectrumMaker::kSize / 2);

SpectrumMaker::SpectrumMaker() : buffer_(kSize), cosine_(kTurn), bins_(kSize / 2 + 1) {
    for (std::size_t i = 0; i < kTurn; ++i) cosine_[i] = static_cast<float>(std::cos(2.0 * std::numbers::pi * static_cast<double>(i) / kTurn));
}

bool SpectrumMaker::transform(const History& history, std::int64_t from, std::int64_t to) noexcept {
    const std::int64_t length = std::min<std::int64_t>(to - from, kSize);
    if (length < kShortest) return false;
    const double turn_step = static_cast<double>(kTurn) / static_cast<double>(length);
    const float scale = 4.0F / static_cast<float>(length);  // Hann's mean is 1/2, a sine's half lies at negative frequencies
    std::size_t i = 0;
    for (; i < static_cast<std::size_t>(length); ++i) {
        const auto turn = static_cast<std::size_t>((static_cast<double>(i) + 0.5) * turn_step);
        buffer_[i] = history.at(from + static_cast<std::int64_t>(i)) * (0.5F - 0.5F * cosine_[turn]) * scale;
    }
    for (; i < kSize; ++i) buffer_[i] = 0.0F;
    fft_.forward(buffer_, bins_);
    return true;
}

void SpectrumMaker::make(const History& history, std::int64_t from, std::int64_t to, Spectrum& out) noexcept {
    if (!transform(history, from, to)) {
        out.fill(0.0F);
        return;
    }
    for (std::size_t b = 0; b < out.size(); ++b) out[b] = std::sqrt(std::norm(bins_[b]));  // std::abs guards against overflow and takes eight times as long
}

void SpectrumMaker::make(const History& history, std::int64_t from, std::int64_t to, PhasedSpectrum& out) noexcept {
    out.length_s = 0.0F;
    if (!transform(history, from, to)) {
        out.bins.fill({});
        return;
    }
    const auto length = static_cast<double>(std::min<std::int64_t>(to - from, kSize));
    out.length_s = static_cast<float>(length / kAnalysisRateHz);
    const double turn = 2.0 * std::numbers::pi * 0.5 * (length - 1.0) / kSize;  // a bin's phase at the middle
    const std::complex<double> step = std::polar(1.0, turn);
    std::complex<double> phase = 1.0;
    for (std::size_t b = 0; b < out.bins.size(); ++b, phase *= step) out.bins[b] = bins_[b] * static_cast<std::complex<float>>(phase);
}

}  // namespace gripline::dsp
