#include "audio/accompaniment.h"

#include <algorithm>
#include <cmath>

#include "audio/metronome.h"

namespace gripline {

namespace {

/// A strum of three strings peaks near -12 dB (StringBank).
constexpr double kString_db = kQuietPeak_db + 12.0;

}  // namespace

Accompaniment::Accompaniment(int rate_hz)
    : clicks_{render_click(rate_hz, false), render_click(rate_hz, false, kQuietPeak_db - kAccent_db), render_click(rate_hz, true)}, strings_(rate_hz),
      string_gain_(static_cast<float>(std::pow(10.0, kString_db / 20.0))) {
    planned_.reserve(kMostPlanned);
}

bool Accompaniment::plan(const Planned& planned) {
    if (planned_.size() >= kMostPlanned) return false;
    const auto later = std::upper_bound(planned_.begin(), planned_.end(), planned, [](const Planned& a, const Planned& b) { return a.frame > b.frame; });
    planned_.insert(later, planned);
    return true;
}

bool Accompaniment::click(std::uint64_t frame, Click kind) { return plan({frame, Sound::click, kind, {}}); }
bool Accompaniment::strum(std::uint64_t frame, const Strum& strum) { return plan({frame, Sound::strum, {}, strum}); }

void Accompaniment::begin(const Planned& planned) noexcept {
    if (planned.sound == Sound::strum) {
        strings_.strike(planned.strum);
        return;
    }
    sounding_ = &clicks_[static_cast<std::size_t>(planned.click)];
    sounded_ = 0;
}

void Accompaniment::add_click(std::span<float> frames) noexcept {
    if (sounding_ == nullptr) return;
    const std::size_t count = std::min(frames.size(), sounding_->size() - sounded_);
    for (std::size_t i = 0; i < count; ++i) frames[i] += (*sounding_)[sounded_ + i];
    sounded_ += count;
    if (sounded_ == sounding_->size()) sounding_ = nullptr;
}

void Accompaniment::process(std::span<float> frames) noexcept {
    std::fill(frames.begin(), frames.end(), 0.0F);
    while (!frames.empty()) {
        while (!planned_.empty() && planned_.back().frame <= position_) {
            begin(planned_.back());
            planned_.pop_back();
        }
        const std::size_t until = planned_.empty() ? frames.size() : static_cast<std::size_t>(std::min<std::uint64_t>(frames.size(), planned_.back().frame - position_));
        const auto now = frames.first(until);
        strings_.process(now);
        for (float& frame : now) frame *= string_gain_;
        add_click(now);
        position_ += until;
        frames = frames.subspan(until);
    }
}

void Accompaniment::reset() noexcept {
    planned_.clear();
    strings_.reset();
    sounding_ = nullptr;
    position_ = 0;
}

}  // namespace gripline
