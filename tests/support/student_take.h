// Takes of simulated students: grips strummed one after the other on the plucked strings, in a room, with planned faults.
#pragma once

#include <array>
#include <cmath>
#include <optional>
#include <vector>

#include "audio/noise.h"
#include "audio/strum.h"

namespace gripline::test {

struct PlayedGrip {
    double at_s = 0.0;
    Grip grip;
    std::optional<PlannedFault> fault;
    bool noise_only = false;  ///< a knock on the body instead
};

struct StudentTake {
    std::vector<PlayedGrip> grips;  ///< in order
    double length_s = 10.0;
    int rate_hz = 48000;
    double noise_db = -66.0;        ///< RMS of the room, dB below full scale
    double ring_s = 2.0;
    std::uint32_t seed = 1;
};

inline std::vector<float> render_take(const StudentTake& take) {
    std::vector<float> frames(static_cast<std::size_t>(take.length_s * take.rate_hz));
    Noise noise(take.seed);
    const auto gain = static_cast<float>(std::pow(10.0, take.noise_db / 20.0) * std::sqrt(3.0));
    for (float& frame : frames) frame = gain * noise.next();
    StringBank strings(take.rate_hz);
    std::size_t at = 0;
    std::uint32_t number = take.seed * 1000;
    const auto sound_until = [&](double until_s) {
        const auto end = std::min(frames.size(), static_cast<std::size_t>(std::max(until_s, 0.0) * take.rate_hz));
        if (end > at) strings.process(std::span(frames).subspan(at, end - at));
        at = std::max(at, end);
    };
    for (const PlayedGrip& played : take.grips) {
        sound_until(played.at_s);
        ++number;
        if (played.noise_only) {
            for (std::size_t i = at; i < std::min(frames.size(), at + static_cast<std::size_t>(take.rate_hz) / 50); ++i) frames[i] += 0.05F * noise.next();
            continue;
        }
        auto strum = plan_strum(played.grip, Tuning(), 0, played.fault);
        if (!strum) continue;
        strum->seed = number;
        strum->ring_s = take.ring_s;
        strum->spread_s = 0.005 + 0.006 * (number % 6);
        strum->down = number % 3 != 0;
        strum->brightness = 0.3 + 0.1 * (number % 5);
        strings.strike(*strum);
    }
    sound_until(take.length_s);
    return frames;
}

}  // namespace gripline::test
