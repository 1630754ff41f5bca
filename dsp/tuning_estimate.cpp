#include "dsp/tuning_estimate.h"

#include <cmath>
#include <numbers>

namespace gripline::dsp {

double TuningVotes::cents() const noexcept {
    if (cos_sum == 0.0 && sin_sum == 0.0) return 0.0;
    return std::atan2(sin_sum, cos_sum) * 50.0 / std::numbers::pi;
}

TuningVotes tuning_votes(const Spectrum& spectrum) noexcept {
    TuningVotes votes;
    constexpr auto kLow = static_cast<std::size_t>(100.0 / kBinHz), kHigh = static_cast<std::size_t>(1400.0 / kBinHz);
    float top = 0.0F;
    for (std::size_t b = kLow; b < kHigh; ++b) top = std::max(top, spectrum[b]);
    for (std::size_t b = kLow; b < kHigh; ++b) {
        const float m = spectrum[b];
        if (m < 0.03F * top || m <= spectrum[b - 1] || m < spectrum[b + 1] || m <= spectrum[b - 3] || m < spectrum[b + 3]) continue;
        // Parabola through the logarithms of three bins: for a Hann window's main lobe the peak within hundredths of a bin.
        const double a = std::log(spectrum[b - 1] + 1e-9), c = std::log(m + 1e-9), d = std::log(spectrum[b + 1] + 1e-9);
        const double shift = 0.5 * (a - d) / (a - 2.0 * c + d);
        const double semitone = 69.0 + 12.0 * std::log2((static_cast<double>(b) + shift) * kBinHz / 440.0);
        // Partials 1, 2 and 4 stand on the note's own pitch class, the third two cents off; all vote at the same place but for those two cents.
        const double angle = 2.0 * std::numbers::pi * (semitone - std::round(semitone));
        const double weight = std::sqrt(static_cast<double>(m));
        votes.cos_sum += weight * std::cos(angle);
        votes.sin_sum += weight * std::sin(angle);
    }
    return votes;
}

}  // namespace gripline::dsp
