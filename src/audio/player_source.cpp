#include "audio/player_source.h"

#include <algorithm>
#include <cmath>

namespace gripline {
namespace {

constexpr std::size_t kMostWaiting = 16;
/// Even noise over -1 to 1 has an RMS of 1/sqrt(3).
constexpr double kEvenNoise_rms = 0.57735;

}  // namespace

PlayerSource::PlayerSource(std::shared_ptr<const Clock> clock, const PlayerSourceConfig& config)
    : config_(config), clock_(std::move(clock)), told_(kMostWaiting), strings_(config.rate_hz), noise_(config.seed),
      noise_gain_(static_cast<float>(std::pow(10.0, config.noise_db / 20.0) / kEvenNoise_rms)) {}

Result<Strum> PlayerSource::strum(const Grip& grip, const Tuning& tuning, int capo, const std::optional<PlannedFault>& fault, double a4_hz) {
    auto planned = plan_strum(grip, tuning, capo, fault);
    if (!planned) return planned;
    planned->a4_hz = a4_hz;
    planned->seed = ++strums_told_;
    if (!strum(*planned)) return Error{"the built-in player is still busy with " + std::to_string(kMostWaiting) + " strums: wait a moment"};
    return planned;
}

bool PlayerSource::strum_at(const Strum& strum, double stream_s) noexcept {
    const Told told{strum, stream_s};
    return told_.write({&told, 1}) == 1;
}

std::size_t PlayerSource::read(std::span<float> frames) noexcept {
    const double now_s = clock_->now_s();
    if (!begun_) origin_s_ = now_s;
    begun_.store(true, std::memory_order_release);
    double owed = std::floor((now_s - origin_s_) * config_.rate_hz + 1e-6) - static_cast<double>(frames_);
    const double most = config_.hardest_lag_s * config_.rate_hz;
    if (owed > most) {
        origin_s_ = origin_s_ + (owed - most) / config_.rate_hz;
        owed = most;
    }
    if (owed < 1.0) return 0;
    const auto now = frames.first(std::min(frames.size(), static_cast<std::size_t>(owed)));
    for (float& frame : now) frame = noise_gain_ * noise_.next();
    if (!waits_) waits_ = told_.read_one(next_);
    std::size_t before = 0;  // frames until it is due
    if (waits_) before = static_cast<std::size_t>(std::clamp(next_.stream_s * config_.rate_hz - static_cast<double>(frames_), 0.0, static_cast<double>(now.size())));
    strings_.process(now.first(before));
    if (waits_ && before < now.size()) {
        strings_.strike(next_.strum);
        waits_ = false;
    }
    strings_.process(now.subspan(before));
    frames_ += now.size();
    return now.size();
}

}  // namespace gripline
