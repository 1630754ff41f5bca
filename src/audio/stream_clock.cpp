#include "audio/stream_clock.h"

#include <algorithm>
#include <cmath>

namespace gripline {

namespace {

/// Stamps that the mean runs over: some 4 s at one every 8 ms. Two devices' clocks drift apart by up to 0.1 ms a second (100 parts in a million, usual
/// limit of sound-card crystals, common practice), so that the line lags by less than half a millisecond.
constexpr int kSpan = 500;
/// Further from the line than this a stamp is no jitter: blocks come in bursts, but their stamps lie within a block or two (5 to 11 ms).
constexpr double kStray_s = 0.03;

}  // namespace

void StreamClock::reset() noexcept {
    origin_s_ = 0.0;
    last_frame_ = UINT64_MAX;
    taken_ = astray_ = 0;
}

void StreamClock::take(const FrameStamp& stamp) noexcept {
    if (stamp.clock_s == 0.0 || stamp.frame == last_frame_) return;
    last_frame_ = stamp.frame;
    const double origin_s = stamp.clock_s - static_cast<double>(stamp.frame) / rate_hz_;
    if (taken_ > 0 && std::abs(origin_s - origin_s_) > kStray_s) {
        if (taken_ >= kEnough && ++astray_ < kMoved) return;
        taken_ = 0;
    }
    astray_ = 0;
    taken_ = std::min(taken_ + 1, kSpan);
    origin_s_ += (origin_s - origin_s_) / taken_;
}

}  // namespace gripline
