// What the player should know about the input: peak, clipping, hum, no signal at all.
#pragma once

#include <cstdint>
#include <span>

namespace gripline {

/// Allocates nothing. Times are counted in frames, so that a recording and a live input show the same.
class InputMeter {
public:
    explicit InputMeter(int rate_hz);

    /// Takes mono frames, full scale = 1, and the source's count of clipped frames so far.
    void process(std::span<const float> frames, std::uint64_t clipped_frames) noexcept;
    /// Takes the chain's levels, after each process().
    void observe(double level_db, double hum_db) noexcept;
    void reset() noexcept;

    /// Highest sample of the last second (counted in tenths), dB below full scale; -120 for silence.
    [[nodiscard]] double peak_db() const noexcept;
    /// Three or more full-scale frames within the last second: one alone may be a recording's normalised peak.
    [[nodiscard]] bool clipping() const noexcept;
    /// For a second and a half the mains hum has been above -50 dB, steady, and most of what there is.
    [[nodiscard]] bool hum() const noexcept;
    /// For two seconds nothing but what an open 16-bit converter gives: two steps either way, a constant offset left aside.
    [[nodiscard]] bool silent() const noexcept;

private:
    static constexpr int kTenths = 10;
    void end_tenth() noexcept;

    struct Tenth {
        float lowest = 0.0F, highest = 0.0F;
        std::uint64_t clipped_frames = 0;
    };
    std::uint64_t tenth_frames_, frames_in_tenth_ = 0, clipped_before_ = 0;
    Tenth now_, tenths_[kTenths];
    bool now_begun_ = false;
    int at_ = 0;
    std::uint64_t silent_frames_ = 0, hum_frames_ = 0, frames_ = 0, observed_frames_ = 0;
    double hum_lowest_db_ = 0.0, hum_highest_db_ = 0.0;
};

}  // namespace gripline
