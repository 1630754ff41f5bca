// A synthetic stiff string by definition: a sum of partials at n f0 sqrt(1 + B n^2) (Fletcher, J. Acoustical Society of America 36, 1964).
#pragma once

#include <algorithm>
#include <cmath>
#include <complex>
#include <cstddef>
#include <cstdint>
#include <numbers>
#include <random>
#include <vector>

namespace gripline::test {

struct StiffString {
    double f0_hz = 110.0;          ///< of the ideal string; the first partial sounds at f0_hz * sqrt(1 + stiffness)
    double stiffness = 8e-5;       ///< B
    double level = 0.1;            ///< peak of the strongest partial
    double tilt = 0.7;             ///< each partial against the one before
    double pick_place = 0.0;       ///< share of the string's length; partials with a node there are weak; 0: all sound
    double decay_s = 0.0;          ///< time to fall by 60 dB at the first partial, higher ones faster; 0: steady
    double nothing_below_hz = 0.0; ///< a small microphone: partials below are left out
    double highest_hz = 20000.0;
    std::uint32_t seed = 1;        ///< of the partials' phases

    [[nodiscard]] double partial_hz(int n) const { return n * f0_hz * std::sqrt(1.0 + stiffness * n * n); }
};

/// Adds the string to `out`, from frame `from` on.
inline void add_string(const StiffString& string, double rate_hz, std::vector<float>& out, std::size_t from = 0) {
    std::mt19937 random(string.seed);
    double amplitude = string.level;
    for (int n = 1; n <= 60; ++n, amplitude *= string.tilt) {
        const double hz = string.partial_hz(n);
        const double phase = std::uniform_real_distribution<>(0.0, 2.0 * std::numbers::pi)(random);
        if (hz >= std::min(string.highest_hz, 0.49 * rate_hz) || amplitude < 1e-5 * string.level) break;
        if (hz < string.nothing_below_hz) continue;
        const double node = string.pick_place > 0.0 ? std::abs(std::sin(std::numbers::pi * n * string.pick_place)) : 1.0;
        // A damped oscillation as a rotation in the complex plane, a frame a step; double precision drifts by 1e-11 in a minute.
        const double fall = string.decay_s > 0.0 ? std::log(1000.0) * std::sqrt(static_cast<double>(n)) / (string.decay_s * rate_hz) : 0.0;
        const std::complex<double> step = std::polar(std::exp(-fall), 2.0 * std::numbers::pi * hz / rate_hz);
        std::complex<double> at = std::polar(amplitude * node, phase);
        for (std::size_t i = from; i < out.size(); ++i, at *= step) out[i] += static_cast<float>(at.imag());
    }
}

/// Adds white noise of this RMS.
inline void add_noise(double rms, std::uint32_t seed, std::vector<float>& out) {
    std::mt19937 random(seed);
    std::normal_distribution<float> normal(0.0F, static_cast<float>(rms));
    for (float& frame : out) frame += normal(random);
}

/// Adds mains hum: ground tone `hz` at this peak, the next four multiples each 6 dB weaker.
inline void add_hum(double hz, double peak, double rate_hz, std::vector<float>& out) {
    for (std::size_t i = 0; i < out.size(); ++i)
        for (int k = 1; k <= 5; ++k)
            out[i] += static_cast<float>(peak * std::exp2(1 - k) * std::sin(2.0 * std::numbers::pi * hz * k * static_cast<double>(i) / rate_hz + k));
}

inline double rms_of(const std::vector<float>& frames) {
    double power = 0.0;
    for (const float frame : frames) power += static_cast<double>(frame) * frame;
    return frames.empty() ? 0.0 : std::sqrt(power / static_cast<double>(frames.size()));
}

}  // namespace gripline::test
