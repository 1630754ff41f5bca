// Takes away what lies below every string: rumble, steps of a hand on the guitar, an offset of the sound card.
#pragma once

#include <cmath>
#include <numbers>

namespace gripline::dsp {

/// A high-pass of first order, 3 dB down at 25 Hz: below the lowest A of a seven-string guitar by an octave.
class RumbleFilter {
public:
    explicit RumbleFilter(int rate_hz) : keep_(std::exp(-2.0 * std::numbers::pi * kCorner_hz / rate_hz)) {}
    /// The next sample at the filter's rate; `x` must be finite.
    [[nodiscard]] double push(double x) noexcept {
        out_ = keep_ * (out_ + x - in_);
        in_ = x;
        return out_;
    }
    void reset() noexcept { in_ = out_ = 0.0; }

private:
    static constexpr double kCorner_hz = 25.0;
    double keep_, in_ = 0.0, out_ = 0.0;
};

}  // namespace gripline::dsp
