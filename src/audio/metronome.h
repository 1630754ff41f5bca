// Metronome clicks, high enough to lie above all that the listener looks at: a click that comes back through the microphone is no note.
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace gripline {

/// So much louder is an accented click than the others beside it (common practice, no source): the accents peak where a single click does.
inline constexpr double kAccent_db = 6.0;

struct MetronomeConfig {
    int rate_hz = 48000;
    double beats_per_minute = 100.0;  ///< 20 to 400; others are moved into that range
    int beats_per_bar = 4;            ///< the first of each is higher; 0: none is
    double peak_db = -24.0;           ///< dB below full scale; where some are accented, of these: the others lie kAccent_db below
};

/// Clicks in time, from the first frame on. Allocates in the constructor only.
class Metronome {
public:
    explicit Metronome(const MetronomeConfig& config = {});
    /// Adds the clicks to `frames`.
    void process(std::span<float> frames) noexcept;
    void reset() noexcept { frame_ = 0; }
    /// Frame at which beat 0, 1, 2, ... begins. Counted from the start, so that rounding never adds up.
    [[nodiscard]] std::uint64_t beat_frame(std::uint64_t beat) const noexcept;

private:
    MetronomeConfig config_;
    std::vector<float> click_, accent_;
    std::uint64_t frame_ = 0;
};

/// One click of 20 ms, highest sample at peak_db.
[[nodiscard]] std::vector<float> render_click(int rate_hz, bool accent, double peak_db = -24.0);

}  // namespace gripline
