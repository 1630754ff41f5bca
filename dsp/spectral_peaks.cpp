#include "dsp/spectral_peaks.h"

#include <algorithm>
#include <cmath>

namespace gripline::dsp {

namespace {

// A parabola through three bins is truest to a Hann window's main lobe when the magnitudes are raised to this power (Werner & Germain 2016, the
// power-scaled interpolation). Measured in tests/dsp/pitch_test.cpp: a steady string within 0.1 cents.
constexpr double kPower = 0.2308;
constexpr float kLeastShare = 1e-3F;       // of the highest peak: -60 dB
constexpr float kAboveFloor = 4.0F;        // noise magnitudes are Rayleigh: one bin in 60 000 reaches four times the median
constexpr double kErrorShare = 0.4;        // error of a peak's place, in 1 / window, at a noise as large as the peak
constexpr std::size_t kStretches = 8;      // the floor is measured in half octaves from 270 Hz up, and once below
constexpr double kFirstStretch_hz = 270.0;
constexpr double kHumWidth = 0.17;         // in 1 / window: 0.5 Hz with the longest; mains are kept to 0.2 Hz of 50 or 60 Hz (common practice)
constexpr int kHumMultiples = 20;

float median(std::span<float> values) noexcept {
    if (values.empty()) return 0.0F;
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

}  // namespace

void SpectralPeaks::keep(const SpectralPeak& peak) noexcept {
    if (count_ < kMost) {
        peaks_[count_++] = peak;
        return;
    }
    const auto weakest = std::min_element(peaks_.begin(), peaks_.end(), [](const auto& a, const auto& b) { return a.root < b.root; });
    if (weakest->root < peak.root) *weakest = peak;
}

/// Hum is there when its ground tone and one more multiple are, or (small microphones) three multiples.
void SpectralPeaks::mark_hum(double mains_hz, double window_s) noexcept {
    const auto multiple = [&](double hz) {
        const double n = std::round(hz / mains_hz);
        return n >= 1.0 && n <= kHumMultiples && std::abs(hz - n * mains_hz) < kHumWidth / window_s ? static_cast<int>(n) : 0;
    };
    int found = 0;
    bool ground = false;
    for (const SpectralPeak& peak : all()) {
        const int n = multiple(peak.hz);
        found += n > 0 ? 1 : 0;
        ground = ground || n == 1;
    }
    if (found < (ground ? 2 : 3)) return;
    hum_ = true;
    for (std::size_t i = 0; i < count_; ++i) peaks_[i].may_be_hum = peaks_[i].may_be_hum || multiple(peaks_[i].hz) > 0;
}

void SpectralPeaks::find(std::span<const float> magnitudes, double bin_hz, double window_s, double low_hz, std::span<float> scratch) noexcept {
    count_ = 0;
    total_ = 0.0F;
    hum_ = false;
    const std::size_t bins = magnitudes.size();
    const auto low = std::max<std::size_t>(2, static_cast<std::size_t>(low_hz / bin_hz));
    if (low + 3 >= bins) return;
    const float top = *std::max_element(magnitudes.begin() + static_cast<std::ptrdiff_t>(low), magnitudes.end());
    if (!(top > 0.0F)) return;
    std::size_t from = low;
    double edge_hz = kFirstStretch_hz;
    for (std::size_t stretch = 0; stretch < kStretches + 1 && from < bins - 1; ++stretch, edge_hz *= std::sqrt(2.0)) {
        const std::size_t to = stretch == kStretches ? bins - 1 : std::min(bins - 1, std::max(from, static_cast<std::size_t>(edge_hz / bin_hz)));
        std::copy(magnitudes.begin() + static_cast<std::ptrdiff_t>(from), magnitudes.begin() + static_cast<std::ptrdiff_t>(to), scratch.begin());
        const float floor = median(scratch.first(to - from));
        const float least = std::max(kLeastShare * top, kAboveFloor * floor);
        for (std::size_t b = from; b < to; ++b) {
            const float m = magnitudes[b];
            if (m < least || m < magnitudes[b - 1] || m <= magnitudes[b + 1]) continue;
            const double a = std::pow(static_cast<double>(magnitudes[b - 1]), kPower), c = std::pow(static_cast<double>(m), kPower),
                         d = std::pow(static_cast<double>(magnitudes[b + 1]), kPower);
            const double curve = a - 2.0 * c + d;
            const double shift = curve < 0.0 ? std::clamp(0.5 * (a - d) / curve, -0.5, 0.5) : 0.0;
            keep({.hz = (static_cast<double>(b) + shift) * bin_hz, .root = std::sqrt(m / top), .above_floor = m / std::max(floor, 1e-9F * top), .error_hz = kErrorShare / window_s * static_cast<double>(floor / m)});
        }
        from = to;
    }
    std::sort(peaks_.begin(), peaks_.begin() + static_cast<std::ptrdiff_t>(count_), [](const auto& x, const auto& y) { return x.hz < y.hz; });
    mark_hum(50.0, window_s);
    mark_hum(60.0, window_s);
    for (const SpectralPeak& peak : all())
        if (!peak.may_be_hum) total_ += peak.root;
}

}  // namespace gripline::dsp
