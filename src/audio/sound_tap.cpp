#include "audio/sound_tap.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace gripline {
namespace {

constexpr double kRing_s = 4.0;  // between two collections; the screen's loop collects every few milliseconds

}  // namespace

SoundTap::SoundTap(int rate_hz)
    : rate_hz_(rate_hz), ring_(static_cast<std::size_t>(kRing_s * rate_hz)), kept_(static_cast<std::size_t>(kLongestCut_s * rate_hz)) {}

void SoundTap::collect() {
    std::array<float, 1024> block{};
    for (std::size_t got = ring_.read(block); got > 0; got = ring_.read(block)) {
        for (std::size_t i = 0; i < got; ++i) kept_[(frames_ + i) % kept_.size()] = block[i];
        frames_ += got;
    }
}

std::vector<float> SoundTap::cut(double from_s, double to_s) {
    collect();
    const std::uint64_t oldest = frames_ > kept_.size() ? frames_ - kept_.size() : 0;
    const auto frame_at = [&](double at_s) {
        const double frame = std::round(std::max(at_s, 0.0) * rate_hz_);
        return std::clamp(static_cast<std::uint64_t>(std::min(frame, 1e15)), oldest, frames_);
    };
    std::vector<float> out;
    for (std::uint64_t frame = frame_at(from_s); frame < frame_at(to_s); ++frame) out.push_back(kept_[frame % kept_.size()]);
    return out;
}

}  // namespace gripline
