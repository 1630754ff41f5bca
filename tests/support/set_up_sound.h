// The sound of a guitar's set-up: quiet, then one note after another, each a stiff string by definition (Fletcher 1964).
#pragma once

#include <vector>

#include "support/stiff_string.h"

namespace gripline::test {

struct SetUpString {
    int midi = 40;
    double cents = 0.0;
    double stiffness = 8e-5;
};

/// Open strings 6 to 1 in standard tuning, then the seventh fret on each (MIDI 1.0 numbers).
inline std::vector<SetUpString> set_up_notes(double cents = 0.0) {
    std::vector<SetUpString> out;
    for (const int fret : {0, 7})
        for (const int open : {40, 45, 50, 55, 59, 64}) out.push_back({open + fret, cents, 8e-5});
    return out;
}

/// 1.3 s of quiet, each note 1.2 s and damped, noise 60 dB below full scale.
inline std::vector<float> set_up_sound(const std::vector<SetUpString>& notes, int rate_hz = 44100, double a4_hz = 440.0) {
    const auto quiet = static_cast<std::size_t>(1.3 * rate_hz), each = static_cast<std::size_t>(1.2 * rate_hz), rings = static_cast<std::size_t>(1.1 * rate_hz);
    std::vector<float> out(quiet + notes.size() * each + each / 2, 0.0F);
    std::uint32_t seed = 1;
    for (std::size_t i = 0; i < notes.size(); ++i) {
        StiffString string{.level = 0.1, .tilt = 0.75, .decay_s = 5.0};
        string.stiffness = notes[i].stiffness;
        string.f0_hz = a4_hz * std::exp2((notes[i].midi - 69) / 12.0 + notes[i].cents / 1200.0) / std::sqrt(1.0 + string.stiffness);
        string.seed = seed++;
        std::vector<float> note(rings, 0.0F);
        add_string(string, rate_hz, note);
        const std::size_t fade = rings / 20;
        for (std::size_t k = 0; k < fade; ++k) note[rings - 1 - k] *= static_cast<float>(k) / static_cast<float>(fade);
        for (std::size_t k = 0; k < rings; ++k) out[quiet + i * each + k] += note[k];
    }
    add_noise(1e-3, 77, out);
    return out;
}

}  // namespace gripline::test
