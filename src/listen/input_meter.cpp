#include "listen/input_meter.h"

#include <algorithm>
#include <cmath>

#include "audio/mono.h"

namespace gripline {
namespace {

constexpr std::uint64_t kClippingFrames = 3;
/// Two steps of a 16-bit converter.
constexpr float kSilence = 2.0F / 32768.0F;
constexpr int kSilentTenths = 20, kHumTenths = 15;
/// A soft strum is near -50 dB; hum as loud as that hides it. Hum is steady, a string is not: it falls by 15 dB a second.
constexpr double kLoudHum_db = -50.0, kHumShare_db = 6.0, kSteady_db = 3.0;

}  // namespace

InputMeter::InputMeter(int rate_hz) : tenth_frames_(static_cast<std::uint64_t>(rate_hz) / 10) {}

void InputMeter::process(std::span<const float> frames, std::uint64_t clipped_frames) noexcept {
    // A source that mixed channels has seen more than the mono sound shows; one that doesn't count is judged by its sound.
    const auto at_full_scale = static_cast<std::uint64_t>(std::count_if(frames.begin(), frames.end(), [](float frame) { return std::fabs(frame) >= kFullScale; }));
    now_.clipped_frames += std::max(clipped_frames - clipped_before_, at_full_scale);
    clipped_before_ = clipped_frames;
    for (const float frame : frames) {
        const float sample = std::isfinite(frame) ? frame : 0.0F;
        now_.lowest = now_begun_ ? std::min(now_.lowest, sample) : sample;
        now_.highest = now_begun_ ? std::max(now_.highest, sample) : sample;
        now_begun_ = true;
        ++frames_;
        if (++frames_in_tenth_ == tenth_frames_) end_tenth();
    }
}

void InputMeter::end_tenth() noexcept {
    const bool signal = now_.highest - now_.lowest > 2.0F * kSilence;
    silent_frames_ = signal ? 0 : silent_frames_ + frames_in_tenth_;
    tenths_[at_] = now_;
    at_ = (at_ + 1) % kTenths;
    now_ = {};
    now_begun_ = false;
    frames_in_tenth_ = 0;
}

void InputMeter::observe(double level_db, double hum_db) noexcept {
    const std::uint64_t passed = frames_ - observed_frames_;
    observed_frames_ = frames_;
    const bool loud = hum_db > kLoudHum_db && level_db - hum_db < kHumShare_db;
    hum_lowest_db_ = hum_frames_ > 0 ? std::min(hum_lowest_db_, hum_db) : hum_db;
    hum_highest_db_ = hum_frames_ > 0 ? std::max(hum_highest_db_, hum_db) : hum_db;
    hum_frames_ = loud && hum_highest_db_ - hum_lowest_db_ < kSteady_db ? hum_frames_ + passed : 0;
}

void InputMeter::reset() noexcept {
    const std::uint64_t clipped_before = clipped_before_;  // the source counts on
    *this = InputMeter(static_cast<int>(tenth_frames_ * 10));
    clipped_before_ = clipped_before;
}

double InputMeter::peak_db() const noexcept {
    float peak = std::max(std::fabs(now_.lowest), std::fabs(now_.highest));
    for (const Tenth& tenth : tenths_) peak = std::max({peak, std::fabs(tenth.lowest), std::fabs(tenth.highest)});
    return peak > 1e-6F ? 20.0 * std::log10(peak) : -120.0;
}

bool InputMeter::clipping() const noexcept {
    std::uint64_t clipped = now_.clipped_frames;
    for (const Tenth& tenth : tenths_) clipped += tenth.clipped_frames;
    return clipped >= kClippingFrames;
}

bool InputMeter::hum() const noexcept { return hum_frames_ >= kHumTenths * tenth_frames_; }
bool InputMeter::silent() const noexcept { return silent_frames_ >= kSilentTenths * tenth_frames_; }

}  // namespace gripline
