// When each frame of a stream is taken in, or heard: stamps of single blocks, which jitter, made into one steady line.
#pragma once

#include <cstdint>

#include "audio/feed.h"

namespace gripline {

/// Seconds are those of the stamps' clock_s. Pure; for one thread.
class StreamClock {
public:
    explicit StreamClock(int rate_hz) : rate_hz_(rate_hz) {}

    /// Takes a stamp; the same one again, or one without a clock, changes nothing. A stream that stopped and goes on elsewhere is noticed after
    /// kMoved stamps, and the line begun anew.
    void take(const FrameStamp& stamp) noexcept;
    void reset() noexcept;
    /// Enough stamps were taken for second_of() and frame_at() to mean something.
    [[nodiscard]] bool ready() const noexcept { return taken_ >= kEnough; }
    [[nodiscard]] double second_of(double frame) const noexcept { return origin_s_ + frame / rate_hz_; }
    [[nodiscard]] double frame_at(double second) const noexcept { return (second - origin_s_) * rate_hz_; }

private:
    static constexpr int kEnough = 12, kMoved = 12;  // at 8 ms between two looks: a tenth of a second
    int rate_hz_;
    double origin_s_ = 0.0;  // of frame 0
    std::uint64_t last_frame_ = UINT64_MAX;
    int taken_ = 0, astray_ = 0;
};

}  // namespace gripline
