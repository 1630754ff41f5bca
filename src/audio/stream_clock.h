// When each frame of a stream is taken in, or heard: stamps of single blocks, which jitter, made into one steady line.
#pragma once

#include <cstdint>

#include "audio/feed.h"

namespace gripline {

/// A straight line through the stamps of the last half minute, later ones weighing more; its slope, how far the device's clock and the machine's
/// drift apart, is believed as far as the stamps bear it out. Seconds are those of the stamps' clock_s. Pure; for one thread.
class StreamClock {
public:
    explicit StreamClock(int rate_hz) : rate_hz_(rate_hz) {}

    /// Takes a stamp; the same one again, or one without a clock, changes nothing. A stream that stopped and goes on elsewhere is noticed after
    /// kMoved stamps, and the line begun anew.
    void take(const FrameStamp& stamp) noexcept;
    void reset() noexcept { *this = StreamClock(rate_hz_); }
    /// Enough stamps were taken for second_of() and frame_at() to mean something.
    [[nodiscard]] bool ready() const noexcept { return taken_ >= kEnough; }
    [[nodiscard]] double second_of(double frame) const noexcept { return frame / rate_hz_ + origin_at(frame / rate_hz_); }
    [[nodiscard]] double frame_at(double second) const noexcept { return rate_hz_ * (second - level_s_ + slope_ * middle_s_) / (1.0 + slope_); }

private:
    static constexpr int kEnough = 12, kMoved = 12;  // at 8 ms between two looks: a tenth of a second
    [[nodiscard]] double origin_at(double stream_s) const noexcept { return level_s_ + slope_ * (stream_s - middle_s_); }
    void begin(double stream_s, double origin_s) noexcept;
    void draw_line() noexcept;

    int rate_hz_;
    std::uint64_t last_frame_ = UINT64_MAX;
    int taken_ = 0, astray_ = 0, shifted_ = 0;  // shifted_: + late, - early
    // Weighted sums over the stamps: x seconds of the stream against the last stamp's, y origins against the first one's.
    double reference_s_ = 0.0, first_origin_s_ = 0.0;
    double weight_ = 0.0, x_ = 0.0, xx_ = 0.0, y_ = 0.0, xy_ = 0.0;
    // The line: the origin is level_s_ at middle_s_ of the stream.
    double level_s_ = 0.0, middle_s_ = 0.0, slope_ = 0.0;
};

}  // namespace gripline
