// A click as it arrives at a microphone: through a small loudspeaker and a room, and mixed into other sound at any instant.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <random>
#include <vector>

namespace gripline::test {

struct ClickRoomConfig {
    int rate_hz = 48000;
    double reverberation_s = 0.3;     ///< until the tail has lost 60 dB
    double tail_db = -10.0;           ///< energy of the tail against the direct sound
    int reflections = 6;              ///< early ones, within 25 ms
    double low_hz = 300.0;            ///< the loudspeaker's lower edge, 12 dB an octave
    double bent = 0.03;               ///< of the square: a loudspeaker's cone is not the same both ways
    std::uint32_t seed = 1;
};

/// Draws a room once; every click goes through the same one.
class ClickRoom {
public:
    explicit ClickRoom(const ClickRoomConfig& config) : config_(config) {
        std::mt19937 random(config.seed);
        std::normal_distribution<double> normal;
        std::uniform_real_distribution<double> even(0.0, 1.0);
        const auto length = static_cast<std::size_t>(config.reverberation_s * config.rate_hz);
        answer_.assign(length, 0.0);
        answer_[0] = 1.0;
        for (int i = 0; i < config.reflections; ++i) {
            const double at_s = 0.001 + 0.024 * even(random);
            answer_[static_cast<std::size_t>(at_s * config.rate_hz)] += (even(random) < 0.5 ? -1.0 : 1.0) * 0.5 * std::exp(-at_s / 0.015) * (0.5 + even(random));
        }
        double energy = 0.0;
        std::vector<double> tail(length);
        for (std::size_t i = 0; i < length; ++i) {
            tail[i] = normal(random) * std::pow(10.0, -3.0 * static_cast<double>(i) / static_cast<double>(length)) * std::min(1.0, static_cast<double>(i) / (0.01 * config.rate_hz));
            energy += tail[i] * tail[i];
        }
        const double gain = std::sqrt(std::pow(10.0, config.tail_db / 10.0) / energy);
        for (std::size_t i = 0; i < length; ++i) answer_[i] += gain * tail[i];
    }

    /// The sound at the microphone, highest sample 1.
    [[nodiscard]] std::vector<double> arrive(const std::vector<float>& click) const {
        double top = 0.0;
        for (const float x : click) top = std::max(top, static_cast<double>(std::fabs(x)));
        std::vector<double> bent(click.size() + static_cast<std::size_t>(config_.rate_hz / 50), 0.0);
        for (std::size_t i = 0; i < click.size(); ++i) {
            const double x = click[i] / top;
            bent[i] = x + config_.bent * x * x;
        }
        for (int twice = 0; twice < 2; ++twice) {
            const double keep = std::exp(-2.0 * std::numbers::pi * config_.low_hz / config_.rate_hz);
            double in = 0.0, out = 0.0;
            for (double& x : bent) {
                out = keep * (out + x - in);
                in = x;
                x = out;
            }
        }
        std::vector<double> heard(bent.size() + answer_.size(), 0.0);
        for (std::size_t i = 0; i < answer_.size(); ++i)
            for (std::size_t k = 0; k < bent.size(); ++k) heard[i + k] += answer_[i] * bent[k];
        double loudest = 1e-12;
        for (const double x : heard) loudest = std::max(loudest, std::fabs(x));
        for (double& x : heard) x /= loudest;
        return heard;
    }

private:
    ClickRoomConfig config_;
    std::vector<double> answer_;
};

/// Adds `what` times `gain` to `sound`, its first sample at the frame `at` (between two frames: by a windowed sinc of 32 taps).
inline void add_at(const std::vector<double>& what, double at, double gain, std::vector<float>& sound) {
    constexpr int kHalf = 16;
    const double whole = std::floor(at), part = at - whole;
    std::vector<double> taps(2 * kHalf);
    for (int i = 0; i < 2 * kHalf; ++i) {
        const double t = i - kHalf + 1 - part;
        const double sinc = std::fabs(t) < 1e-9 ? 1.0 : std::sin(std::numbers::pi * t) / (std::numbers::pi * t);
        taps[static_cast<std::size_t>(i)] = sinc * (0.5 + 0.5 * std::cos(std::numbers::pi * t / (kHalf + 1)));
    }
    for (std::size_t k = 0; k < what.size(); ++k)
        for (int i = 0; i < 2 * kHalf; ++i) {
            const auto place = static_cast<std::ptrdiff_t>(whole) + static_cast<std::ptrdiff_t>(k) + i - kHalf + 1;
            if (place >= 0 && place < static_cast<std::ptrdiff_t>(sound.size())) sound[static_cast<std::size_t>(place)] += static_cast<float>(gain * what[k] * taps[static_cast<std::size_t>(i)]);
        }
}

}  // namespace gripline::test
