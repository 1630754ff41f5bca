// Measures of sound for tests, by definition rather than by the code under test.
#pragma once

#include <cmath>
#include <complex>
#include <cstddef>
#include <numbers>
#include <span>

namespace gripline::test {

/// The Fourier sum of a Hann-windowed stretch at one frequency; twice its magnitude over the window's sum is a sine's peak.
inline std::complex<double> fourier_at(std::span<const float> frames, double frequency_hz, double rate_hz) {
    std::complex<double> sum = 0.0;
    const double size = static_cast<double>(frames.size());
    for (std::size_t i = 0; i < frames.size(); ++i) {
        const double window = 0.5 - 0.5 * std::cos(2.0 * std::numbers::pi * (static_cast<double>(i) + 0.5) / size);
        sum += window * frames[i] * std::polar(1.0, -2.0 * std::numbers::pi * frequency_hz * static_cast<double>(i) / rate_hz);
    }
    return sum;
}

/// Frequency of the partial near `near_hz`: from the phase that it gains between two windows that are `step` frames apart.
/// Unambiguous within rate / (2 step) of near_hz.
inline double partial_hz(std::span<const float> frames, double near_hz, double rate_hz, std::size_t window, std::size_t step) {
    const auto first = fourier_at(frames.subspan(0, window), near_hz, rate_hz);
    const auto second = fourier_at(frames.subspan(step, window), near_hz, rate_hz) *
                        std::polar(1.0, -2.0 * std::numbers::pi * near_hz * static_cast<double>(step) / rate_hz);
    return near_hz + std::arg(second / first) * rate_hz / (2.0 * std::numbers::pi * static_cast<double>(step));
}

/// Cents from b up to a.
inline double cents(double a, double b) { return 1200.0 * std::log2(a / b); }

/// RMS, dB below full scale; -200 for silence.
inline double rms_db(std::span<const float> frames) {
    double power = 0.0;
    for (const float frame : frames) power += static_cast<double>(frame) * frame;
    return power > 0.0 ? 10.0 * std::log10(power / static_cast<double>(frames.size())) : -200.0;
}

inline double peak_db(std::span<const float> frames) {
    float peak = 0.0F;
    for (const float frame : frames) peak = std::max(peak, std::fabs(frame));
    return peak > 0.0F ? 20.0 * std::log10(peak) : -200.0;
}

}  // namespace gripline::test
