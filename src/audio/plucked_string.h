// A plucked string: a delay line with a low-pass in its loop (Karplus & Strong, Computer Music Journal 7(2) 1983), tuned by an all-pass
// and shaped in loss and brightness after Jaffe & Smith in the same issue.
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace gripline {

struct PluckedStringConfig {
    int rate_hz = 48000;        ///< 8000 to 192000
    double lowest_hz = 30.0;    ///< the longest delay line that will be needed
    double ring_s = 4.0;        ///< time to fall by 60 dB at 100 Hz; higher notes ring shorter
    double bright_ring_s = 0.6; ///< the same for partials near 3 kHz
    double pick_place = 0.16;   ///< where the string is plucked, as a share of its length from the bridge
};

/// One string. Allocates in the constructor only.
class PluckedString {
public:
    explicit PluckedString(const PluckedStringConfig& config = {});

    /// Plucks anew: `frequency_hz` of the fundamental (from lowest_hz to a quarter of the rate; others are moved into that range),
    /// `level` the RMS of the sound at its beginning (full scale = 1), `brightness` 0 (soft thumb) to 1 (hard pick). The same seed gives the same sound.
    void pluck(double frequency_hz, double level, double brightness, std::uint32_t seed) noexcept;
    /// Lays a hand on the string: from now on it falls by 60 dB within `fall_s`.
    void damp(double fall_s) noexcept;
    /// Adds the sound to `frames`.
    void process(std::span<float> frames) noexcept;
    void reset() noexcept;
    /// Silent: not plucked, or died away.
    [[nodiscard]] bool at_rest() const noexcept { return period_ == 0; }

private:
    void tune(double frequency_hz) noexcept;
    void excite(double level, double brightness, std::uint32_t seed) noexcept;

    PluckedStringConfig config_;
    std::vector<float> line_;  // one period of the sound, round and round
    std::size_t period_ = 0, at_ = 0, quiet_frames_ = 0;
    double frequency_hz_ = 0.0;
    // Loop: gain * (1 - pole) / (1 - pole z^-1), then the all-pass (tuning + z^-1) / (1 + tuning z^-1).
    float gain_ = 0.0F, pole_ = 0.0F, tuning_ = 0.0F;
    float low_passed_ = 0.0F, all_pass_in_ = 0.0F, all_pass_out_ = 0.0F;
};

}  // namespace gripline
