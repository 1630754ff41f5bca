#include "audio/metronome.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace gripline {
namespace {

/// The listener's spectra end at 4.2 kHz (dsp/strum_evidence.h); the click's lower skirt stays above.
constexpr double kClick_hz = 5200.0, kAccent_hz = 6000.0;
constexpr double kLength_s = 0.02;
constexpr double kSlowest = 20.0, kFastest = 400.0;

}  // namespace

std::vector<float> render_click(int rate_hz, bool accent, double peak_db) {
    std::vector<float> frames(static_cast<std::size_t>(kLength_s * rate_hz));
    const double angle = 2.0 * std::numbers::pi * std::min(accent ? kAccent_hz : kClick_hz, 0.4 * rate_hz) / rate_hz;
    float peak = 0.0F;
    for (std::size_t i = 0; i < frames.size(); ++i) {
        // A skewed Hann bell: up within a fifth of the length, then down; no edge that would splash over the spectrum.
        const double place = (static_cast<double>(i) + 0.5) / static_cast<double>(frames.size());
        const double bell = place < 0.2 ? place / 0.4 : 0.5 + (place - 0.2) / 1.6;
        frames[i] = static_cast<float>((0.5 - 0.5 * std::cos(2.0 * std::numbers::pi * bell)) * std::sin(angle * static_cast<double>(i)));
        peak = std::max(peak, std::fabs(frames[i]));
    }
    for (float& frame : frames) frame *= static_cast<float>(std::pow(10.0, peak_db / 20.0)) / peak;
    return frames;
}

Metronome::Metronome(const MetronomeConfig& config)
    : config_(config), click_(render_click(config.rate_hz, false, config.peak_db - (config.beats_per_bar > 0 ? kAccent_db : 0.0))), accent_(render_click(config.rate_hz, true, config.peak_db)) {
    config_.beats_per_minute = std::clamp(config.beats_per_minute, kSlowest, kFastest);
}

std::uint64_t Metronome::beat_frame(std::uint64_t beat) const noexcept {
    return static_cast<std::uint64_t>(std::llround(static_cast<double>(beat) * 60.0 * config_.rate_hz / config_.beats_per_minute));
}

void Metronome::process(std::span<float> frames) noexcept {
    // A click is shorter than the shortest beat, so that at most the beat before the first frame still sounds.
    const double beats = static_cast<double>(frame_) * config_.beats_per_minute / (60.0 * config_.rate_hz);
    auto beat = static_cast<std::uint64_t>(std::max(0.0, std::floor(beats) - 1.0));
    for (const std::uint64_t end = frame_ + frames.size(); beat_frame(beat) < end; ++beat) {
        const bool accented = config_.beats_per_bar > 0 && beat % static_cast<std::uint64_t>(config_.beats_per_bar) == 0;
        const std::vector<float>& click = accented ? accent_ : click_;
        const std::uint64_t from = beat_frame(beat);
        for (std::uint64_t at = std::max(from, frame_); at < std::min(end, from + click.size()); ++at)
            frames[static_cast<std::size_t>(at - frame_)] += click[static_cast<std::size_t>(at - from)];
    }
    frame_ += frames.size();
}

}  // namespace gripline
