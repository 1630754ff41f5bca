#include "dsp/resampler.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numbers>

namespace gripline::dsp {

namespace {

constexpr std::size_t kPhases = 128;  // linear interpolation between them errs below -100 dB at these cut-offs
// Kaiser window for 80 dB (Kaiser 1974: beta = 0.1102 (A - 8.7)).
constexpr double kAttenuationDb = 80.0;
constexpr double kBeta = 0.1102 * (kAttenuationDb - 8.7);

double bessel_i0(double x) {
    double sum = 1.0, term = 1.0;
    for (int k = 1; k < 40; ++k) {
        term *= (x / (2.0 * k)) * (x / (2.0 * k));
        sum += term;
    }
    return sum;
}

}  // namespace

Resampler::Resampler(const ResamplerConfig& config) : step_(static_cast<double>(config.from_hz) / config.to_hz) {
    const double from = config.from_hz;
    const double pass = std::min(config.pass_hz, 0.45 * from);
    // Aliases may fall above the pass band, not into it; images likewise.
    const double stop = std::max(std::min(config.to_hz - pass, from - pass), pass + 0.05 * std::min(from, static_cast<double>(config.to_hz)));
    const double cut = 0.5 * (pass + stop) / from;              // cycles a frame
    const double width = 2.0 * std::numbers::pi * (stop - pass) / from;
    const double taps = (kAttenuationDb - 8.0) / (2.285 * width);  // Kaiser 1974
    half_ = static_cast<std::size_t>(std::ceil(taps / 2.0)) + 1;
    max_out_ = static_cast<std::size_t>(std::ceil(1.0 / step_)) + 1;
    const std::size_t length = 2 * half_;
    const double window_top = bessel_i0(kBeta);
    table_.assign((kPhases + 1) * length, 0.0F);
    for (std::size_t p = 0; p <= kPhases; ++p) {
        double sum = 0.0;
        for (std::size_t i = 0; i < length; ++i) {
            // Tap i looks at the input frame (half_ - 1 - i + phase) before the wanted instant.
            const double t = static_cast<double>(i) - static_cast<double>(half_ - 1) - static_cast<double>(p) / kPhases;
            const double x = 2.0 * std::numbers::pi * cut * t;
            const double sinc = std::abs(t) < 1e-12 ? 2.0 * cut : std::sin(x) / (std::numbers::pi * t);
            const double r = t / static_cast<double>(half_);
            const double window = std::abs(r) >= 1.0 ? 0.0 : bessel_i0(kBeta * std::sqrt(1.0 - r * r)) / window_top;
            table_[p * length + i] = static_cast<float>(sinc * window);
            sum += sinc * window;
        }
        for (std::size_t i = 0; i < length; ++i) table_[p * length + i] /= static_cast<float>(sum);
    }
    line_.assign(2 * length, 0.0F);
}

void Resampler::reset() noexcept {
    std::fill(line_.begin(), line_.end(), 0.0F);
    at_ = 0;
    taken_ = made_ = 0;
}

std::size_t Resampler::push(float frame, std::span<float> out) noexcept {
    const std::size_t length = 2 * half_;
    line_[at_] = line_[at_ + length] = frame;
    at_ = (at_ + 1) % length;
    ++taken_;
    std::size_t count = 0;
    while (count < out.size()) {
        // Output k stands at k * step_; it needs input frames floor(k * step_) - half_ + 1 .. + half_.
        const double instant = static_cast<double>(made_) * step_;
        const double whole = std::floor(instant);
        if (static_cast<double>(taken_) < whole + static_cast<double>(half_) + 1.0) break;
        const double phase = (instant - whole) * kPhases;
        const auto row = static_cast<std::size_t>(phase);
        const float mix = static_cast<float>(phase - static_cast<double>(row));
        const float* a = &table_[row * length];
        const float* b = a + (row < kPhases ? length : 0);
        const float* x = &line_[at_];  // oldest first
        float sum_a = 0.0F, sum_b = 0.0F;
        for (std::size_t i = 0; i < length; ++i) {
            sum_a += a[i] * x[i];
            sum_b += b[i] * x[i];
        }
        out[count++] = sum_a + mix * (sum_b - sum_a);
        ++made_;
    }
    return count;
}

}  // namespace gripline::dsp
