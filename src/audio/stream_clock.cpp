#include "audio/stream_clock.h"

#include <algorithm>
#include <cmath>

namespace gripline {

namespace {

/// Stamps that the line runs over: some 20 s at one every 8 ms.
constexpr double kSpan = 2500.0;
/// Weight, in stamps times seconds squared, of the belief that the clocks do not drift: the wandering (1 ms, some 125 stamps long) over the usual drift (0.1 ms
/// a second: 100 parts in a million, usual limit of sound-card crystals, common practice), squared. A slope counts from some 10 s on.
constexpr double kNoDrift = 125.0 * (1.0 / 0.1) * (1.0 / 0.1);
/// A stamp further from the line is taken for one at this distance: calls come within 0.8 ms, a few late by 3 (measured on a private PulseAudio).
constexpr double kPulled_s = 0.002;
/// Further than this from the line, so many stamps one after the other (0.3 s): the stream lost a block, or goes on elsewhere.
constexpr double kShifted_s = 0.004;
constexpr int kShifted = 40;
/// Further from the line than this a stamp is no jitter: blocks come in bursts, but their stamps lie within a block or two (5 to 11 ms).
constexpr double kStray_s = 0.03;

}  // namespace

void StreamClock::begin(double stream_s, double origin_s) noexcept {
    taken_ = astray_ = shifted_ = 0;
    weight_ = x_ = xx_ = y_ = xy_ = 0.0;
    reference_s_ = stream_s;
    first_origin_s_ = origin_s;
}

void StreamClock::draw_line() noexcept {
    const double x = x_ / weight_, y = y_ / weight_;
    slope_ = (xy_ / weight_ - x * y) / (xx_ / weight_ - x * x + kNoDrift / weight_);
    middle_s_ = reference_s_ + x;
    level_s_ = first_origin_s_ + y;
}

void StreamClock::take(const FrameStamp& stamp) noexcept {
    if (stamp.clock_s == 0.0 || stamp.frame == last_frame_) return;
    last_frame_ = stamp.frame;
    const double stream_s = static_cast<double>(stamp.frame) / rate_hz_;
    const double origin_s = stamp.clock_s - stream_s;
    if (taken_ > 0 && std::abs(origin_s - origin_at(stream_s)) > kStray_s) {
        if (taken_ >= kEnough && ++astray_ < kMoved) return;
        taken_ = 0;
    }
    astray_ = 0;
    double off_s = taken_ > 0 ? origin_s - origin_at(stream_s) : 0.0;
    shifted_ = off_s > kShifted_s ? std::max(shifted_, 0) + 1 : off_s < -kShifted_s ? std::min(shifted_, 0) - 1 : 0;
    if (std::abs(shifted_) >= kShifted) taken_ = 0;
    if (taken_ == 0) {
        begin(stream_s, origin_s);
        off_s = 0.0;
    } else {
        off_s = origin_at(stream_s) - first_origin_s_ + std::clamp(off_s, -kPulled_s, kPulled_s);
    }
    ++taken_;
    // The first stamps of a stream are the worst: while there are few, the weight of older ones falls twice as fast as a mean's would.
    const double kept = 1.0 - std::max(1.0 / kSpan, std::min(2.0 / (taken_ + 1.0), 0.5));
    const double by_s = stream_s - reference_s_;
    xx_ += by_s * (by_s * weight_ - 2.0 * x_);
    xy_ -= by_s * y_;
    x_ -= by_s * weight_;
    reference_s_ = stream_s;
    weight_ = kept * weight_ + 1.0;
    x_ *= kept;
    xx_ *= kept;
    y_ = kept * y_ + off_s;
    xy_ *= kept;
    draw_line();
}

}  // namespace gripline
