#include "audio/plucked_string.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "audio/noise.h"

namespace gripline {
namespace {

/// Where bright_ring_s applies; for high notes at least this many times the fundamental.
constexpr double kBright_hz = 3000.0;
constexpr double kBrightPartials = 3.0;
/// Ring time falls with the square root of frequency above this: common practice for guitar models, no source.
constexpr double kRingReference_hz = 100.0;
/// A loop must lose something at every frequency.
constexpr double kLargestLoopGain = 0.99995;
/// Under -120 dB a string is at rest (full scale = 1).
constexpr float kRestLevel = 1e-6F;

/// Gain a period for a fall by 60 dB in `seconds`.
double gain_a_period(double frequency_hz, double seconds) { return std::pow(10.0, -3.0 / (frequency_hz * seconds)); }

/// Pole of (1-p)/(1-p z^-1) such that its magnitude at angle `high` is `ratio` (below 1) times that at angle `low`:
/// |H|^2 = (1-p)^2 / (1 - 2p cos w + p^2), solved for p.
double pole_for_ratio(double low, double high, double ratio) {
    const double r2 = ratio * ratio;
    const double q = (std::cos(low) - r2 * std::cos(high)) / (1.0 - r2);
    return q > 1.0 ? q - std::sqrt(q * q - 1.0) : 0.0;
}

}  // namespace

PluckedString::PluckedString(const PluckedStringConfig& config)
    : config_(config), line_(2 * static_cast<std::size_t>(std::ceil(config.rate_hz / config.lowest_hz))) {}  // the second half is room for excite()

void PluckedString::pluck(double frequency_hz, double level, double brightness, std::uint32_t seed) noexcept {
    tune(std::clamp(frequency_hz, config_.lowest_hz, config_.rate_hz / 4.0));
    excite(level, std::clamp(brightness, 0.0, 1.0), seed);
}

void PluckedString::tune(double frequency_hz) noexcept {
    const double angle = 2.0 * std::numbers::pi * frequency_hz / config_.rate_hz;
    const double bright_hz = std::min(std::max(kBright_hz, kBrightPartials * frequency_hz), 0.45 * config_.rate_hz);
    const double bright_angle = 2.0 * std::numbers::pi * bright_hz / config_.rate_hz;
    const double ring_s = config_.ring_s * std::min(1.0, std::sqrt(kRingReference_hz / frequency_hz));
    const double bright_ring_s = std::min(config_.bright_ring_s, 0.7 * ring_s);
    const double at_fundamental = gain_a_period(frequency_hz, ring_s);
    const double pole = pole_for_ratio(angle, bright_angle, gain_a_period(frequency_hz, bright_ring_s) / at_fundamental);
    const double low_pass_gain = (1.0 - pole) / std::sqrt(1.0 - 2.0 * pole * std::cos(angle) + pole * pole);
    // Phase delays at the fundamental, in frames: the loop's must add up to one period exactly.
    const double low_pass_delay = std::atan2(pole * std::sin(angle), 1.0 - pole * std::cos(angle)) / angle;
    const double rest = config_.rate_hz / frequency_hz - low_pass_delay;
    period_ = static_cast<std::size_t>(std::floor(rest - 0.3));  // leaves the all-pass 0.3 to 1.3 frames, where it is well behaved
    const double delay = rest - static_cast<double>(period_);
    // Jaffe & Smith 1983: the all-pass coefficient for an exact phase delay at one frequency.
    tuning_ = static_cast<float>(std::sin(angle * (1.0 - delay) / 2.0) / std::sin(angle * (1.0 + delay) / 2.0));
    pole_ = static_cast<float>(pole);
    gain_ = static_cast<float>(std::min(at_fundamental / low_pass_gain, kLargestLoopGain));
    frequency_hz_ = frequency_hz;
    at_ = quiet_frames_ = 0;
    low_passed_ = all_pass_in_ = all_pass_out_ = 0.0F;
}

void PluckedString::excite(double level, double brightness, std::uint32_t seed) noexcept {
    const std::span<float> period(line_.data(), period_);
    Noise noise(seed);
    // A harder pick lets more of the noise's top through: a one-pole low-pass run round the period twice, so that its ends meet.
    const float keep = static_cast<float>(std::exp(-2.0 * std::numbers::pi * (600.0 + 3400.0 * brightness) / config_.rate_hz));
    for (float& sample : period) sample = noise.next();
    float smooth = 0.0F;
    for (int round = 0; round < 2; ++round)
        for (float& sample : period) sample = smooth += (1.0F - keep) * (sample - smooth);
    // The pick's place takes out the partials that have a node there: x[n] - x[n - place], round the period.
    const auto place = std::max<std::size_t>(1, static_cast<std::size_t>(config_.pick_place * static_cast<double>(period_)));
    const std::span<float> copy(line_.data() + period_, period_);
    std::copy(period.begin(), period.end(), copy.begin());
    for (std::size_t i = 0; i < period_; ++i) period[i] -= copy[(i + period_ - place) % period_];
    double mean = 0.0, power = 0.0;
    for (const float sample : period) mean += sample;
    mean /= static_cast<double>(period_);
    for (float& sample : period) sample -= static_cast<float>(mean);
    for (const float sample : period) power += static_cast<double>(sample) * sample;
    const double scale = power > 0.0 ? level / std::sqrt(power / static_cast<double>(period_)) : 0.0;
    for (float& sample : period) sample *= static_cast<float>(scale);
}

void PluckedString::damp(double fall_s) noexcept {
    if (at_rest()) return;
    gain_ *= static_cast<float>(gain_a_period(frequency_hz_, std::max(fall_s, 1e-3)));
}

void PluckedString::process(std::span<float> frames) noexcept {
    if (at_rest()) return;
    for (float& frame : frames) {
        const float out = line_[at_];
        frame += out;
        low_passed_ = gain_ * (1.0F - pole_) * out + pole_ * low_passed_;
        all_pass_out_ = tuning_ * (low_passed_ - all_pass_out_) + all_pass_in_;
        all_pass_in_ = low_passed_;
        line_[at_] = all_pass_out_;
        at_ = at_ + 1 == period_ ? 0 : at_ + 1;
        quiet_frames_ = std::fabs(out) < kRestLevel ? quiet_frames_ + 1 : 0;
        if (quiet_frames_ > 2 * period_) {
            period_ = 0;
            return;
        }
    }
}

void PluckedString::reset() noexcept { period_ = 0; }

}  // namespace gripline
