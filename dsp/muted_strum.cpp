#include "dsp/muted_strum.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "dsp/strum_evidence.h"

namespace gripline::dsp {

namespace {

constexpr std::array<std::size_t, kMutedBands + 1> kEdges{2, 3, 4, 6, 8, 11, 15, 20, 27, 37, 50, 68, 91};
constexpr float kSilence = 1e-12F;
constexpr float kNoiseRise = 1.003F;      // a hop: doubles in 1.2 s, falls at once
constexpr double kNoiseOverLeast = 4.0;   // the mean of steady noise in 21 ms against the least of a second (6 dB; measured, 2026-11)
constexpr std::int64_t kSettling = 6;     // hops that tell what the room sounds like
constexpr int kBegins = 3;                // bands that rise at once at a start
constexpr std::int64_t kAhead = 8;        // hops before a start that are looked at
constexpr std::int64_t kPeaks = 14;       // hops from the start: 75 ms, the slowest strum and a frame
constexpr std::int64_t kRingsOn = 23;     // 123 ms: by then half of the bands of a muted strum are 10 dB down
constexpr std::int64_t kGoneFrom = 26, kGoneTo = 31;  // 139 to 165 ms
constexpr double kTenDb = 0.1;            // as a ratio of powers
constexpr double kHop_s = static_cast<double>(MutedStrumDetector::kHopFrames) / kAnalysisRateHz;
/// A start shows in the first frame that holds a few of its milliseconds.
constexpr double kShows_s = 0.008;
/// A start is known as one within so many hops after it.
constexpr double kKnown_s = 0.025;

double to_db(double power) { return 10.0 * std::log10(power + 1e-13); }
float ratio(double db) { return static_cast<float>(std::pow(10.0, db / 10.0)); }

}  // namespace

MutedStrumDetector::MutedStrumDetector(const MutedStrumConfig& config)
    : config_(config), rumble_(config.rate_hz), resampler_({.from_hz = config.rate_hz, .to_hz = kAnalysisRateHz}), made_(resampler_.max_out()) {
    for (int i = 0; i < kFrame; ++i)
        window_[static_cast<std::size_t>(i)] = static_cast<float>((0.5 - 0.5 * std::cos(2.0 * std::numbers::pi * (i + 0.5) / kFrame)) * 4.0 / kFrame);
    reset();
}

void MutedStrumDetector::reset() noexcept {
    resampler_.reset();
    history_.clear();
    rumble_.reset();
    for (Bands& bands : power_) bands.fill(0.0F);
    noise_.fill(kSilence);
    hops_ = 0;
    start_ = -1;
    told_first_ = told_count_ = 0;
    look_.reset();
}

void MutedStrumDetector::process(std::span<const float> frames) noexcept {
    for (const float frame : frames) {
        const double x = std::isfinite(frame) ? static_cast<double>(frame) : 0.0;
        const std::size_t count = resampler_.push(static_cast<float>(rumble_.push(x)), made_);
        for (std::size_t i = 0; i < count; ++i) {
            history_.push(made_[i]);
            if (history_.now() % kHopFrames == 0) hop();
        }
    }
}

float MutedStrumDetector::before(std::int64_t hop, std::size_t band) const noexcept {
    float most = 0.0F;
    for (std::int64_t k = 3; k <= kAhead; ++k) most = std::max(most, power(hop - k)[band]);
    return most;
}

double MutedStrumDetector::mean(std::size_t band, std::int64_t from, std::int64_t to) const noexcept {
    double sum = 0.0;
    for (std::int64_t k = from; k <= to; ++k) sum += static_cast<double>(power(k)[band]);
    return sum / static_cast<double>(to - from + 1);
}

int MutedStrumDetector::risen_at(std::int64_t hop) const noexcept {
    const float over_before = ratio(config_.above_before_db), over_noise = ratio(config_.above_noise_db);
    int risen = 0;
    for (std::size_t b = 0; b < kMutedBands; ++b)
        if (power(hop)[b] > over_noise * noise_[b] && power(hop)[b] > over_before * before(hop, b)) ++risen;
    return risen;
}

void MutedStrumDetector::hop() noexcept {
    const auto x = history_.last(kFrame);
    for (std::size_t i = 0; i < kFrame; ++i) buffer_[i] = x[i] * window_[i];
    fft_.forward(buffer_, spectrum_);
    Bands& now = power_[static_cast<std::size_t>(hops_) % kKept];
    for (std::size_t b = 0; b < kMutedBands; ++b) {
        now[b] = 0.0F;
        for (std::size_t i = kEdges[b]; i < kEdges[b + 1]; ++i) now[b] += std::norm(spectrum_[i]);
        noise_[b] = std::max(kSilence, hops_ < kSettling ? now[b] : std::min(now[b], noise_[b] * kNoiseRise));
    }
    look_.reset();
    const std::int64_t at = hops_++;
    if (at > kAhead) follow(at);
}

void MutedStrumDetector::follow(std::int64_t hop) noexcept {
    const int risen = risen_at(hop);
    // Some bands rise a frame before the others. A start on top of a candidate that is over already is another one (a squeak, then the strum).
    const bool begins = risen >= kBegins && (start_ < 0 || (hop - start_ > kPeaks && risen >= config_.least_bands));
    if (begins) {
        start_ = hop;
        peak_.fill(0.0F);
        for (std::size_t b = 0; b < kMutedBands; ++b) before_[b] = before(hop, b);
        noise_then_ = noise_;
    }
    if (start_ < 0) return;
    const std::int64_t age = hop - start_;
    if (age <= kPeaks)
        for (std::size_t b = 0; b < kMutedBands; ++b) peak_[b] = std::max(peak_[b], power(hop)[b]);
    if ((age == kRingsOn && rings_on(hop)) || age > kGoneTo) decide();
}

/// Half of the bands are still near their peaks.
bool MutedStrumDetector::rings_on(std::int64_t hop) const noexcept {
    const float top = *std::max_element(peak_.begin(), peak_.end());
    int live = 0, near = 0;
    for (std::size_t b = 0; b < kMutedBands; ++b) {
        if (peak_[b] < top / ratio(config_.below_top_db)) continue;
        ++live;
        if (power(hop)[b] > static_cast<float>(kTenDb) * peak_[b]) ++near;
    }
    return 2 * near > live;
}

void MutedStrumDetector::decide() noexcept {
    const float top = *std::max_element(peak_.begin(), peak_.end());
    const std::int64_t heard_to = std::min(hops_ - 1, start_ + kGoneTo);
    std::array<double, kMutedBands> falls{}, longs{};
    Look look{.at_s = (static_cast<double>(start_ + 1) * kHop_s) - kShows_s};
    for (std::size_t b = 0; b < kMutedBands; ++b) {
        const double peak = static_cast<double>(peak_[b]), noise = kNoiseOverLeast * static_cast<double>(noise_then_[b]);
        if (peak_[b] < top / ratio(config_.below_top_db) || peak_[b] < ratio(config_.above_noise_db) * noise_then_[b]) continue;
        if (peak_[b] > ratio(config_.above_before_db) * before_[b]) ++look.risen;
        if (peak_[b] < ratio(config_.tells_db) * noise_then_[b]) continue;
        const auto place = static_cast<std::size_t>(look.telling++);
        std::int64_t last = start_;
        for (std::int64_t k = start_; k <= std::min(heard_to, start_ + kGoneFrom); ++k)
            if (static_cast<double>(power(k)[b]) > std::max(kTenDb * peak, 2.0 * noise)) last = k;
        longs[place] = static_cast<double>(last - start_) * kHop_s;
        const double left = heard_to < start_ + kGoneTo ? peak : mean(b, start_ + kGoneFrom, start_ + kGoneTo) - noise;
        falls[place] = to_db(peak) - to_db(std::max(0.0, left));
    }
    const auto bands = static_cast<std::size_t>(look.telling);
    if (bands > 0) {
        std::sort(falls.begin(), falls.begin() + static_cast<std::ptrdiff_t>(bands));
        std::sort(longs.begin(), longs.begin() + static_cast<std::ptrdiff_t>(bands));
        look.long_s = longs[bands / 2];
        look.fall_db = falls[bands / 2];
        look.fall_most_db = falls[bands / 4];
    }
    double loudest = 0.0;
    for (std::int64_t k = start_; k <= std::min(heard_to, start_ + kPeaks); ++k) {
        double sum = 0.0;
        for (const float each : power(k)) sum += static_cast<double>(each);
        loudest = std::max(loudest, sum);
    }
    // A sine of amplitude 1, RMS -3 dB, has 1.5 times its squared peak in a Hann window's bins.
    const double level_db = to_db(loudest / 3.0);
    look.muted = look.risen >= config_.least_bands && look.telling >= config_.least_telling && level_db >= config_.least_level_db && look.long_s >= config_.shortest_s && look.long_s <= config_.longest_s && look.fall_db >= config_.gone_db &&
                 look.fall_most_db >= config_.gone_most_db;
    if (look.risen >= config_.least_bands && level_db >= config_.least_level_db) {
        MutedStrum muted{.muted = look.muted, .at_s = look.at_s, .level_db = level_db};
        for (std::size_t b = 0; b < kMutedBands; ++b) muted.shape_db[b] = std::max(-60.0F, static_cast<float>(to_db(static_cast<double>(peak_[b])) - to_db(static_cast<double>(top))));
        tell(muted);
    }
    look_ = look;
    start_ = -1;
}

void MutedStrumDetector::tell(const MutedStrum& muted) noexcept {
    told_[(told_first_ + told_count_) % kRoom] = muted;
    if (told_count_ < kRoom) ++told_count_;
    else told_first_ = (told_first_ + 1) % kRoom;
}

bool MutedStrumDetector::take(MutedStrum& muted) noexcept {
    if (told_count_ == 0) return false;
    muted = told_[told_first_];
    told_first_ = (told_first_ + 1) % kRoom;
    --told_count_;
    return true;
}

double MutedStrumDetector::decided_s() const noexcept {
    const double now_s = static_cast<double>(history_.now()) / kAnalysisRateHz;
    return (start_ < 0 ? now_s : static_cast<double>(start_ + 1) * kHop_s) - kKnown_s;
}

}  // namespace gripline::dsp
