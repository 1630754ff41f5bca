#include "audio/sound_tap.h"

#include <algorithm>
#include <cmath>

namespace gripline {
namespace {

constexpr double kSpare_s = 4.0;  // kept beyond the longest cut, so that put() stays clear of what a cut is copying: copying 90 s takes some 10 ms

}  // namespace

SoundTap::SoundTap(int rate_hz)
    : rate_hz_(rate_hz), cut_frames_(static_cast<std::uint64_t>(kLongestCut_s * rate_hz)), kept_(static_cast<std::size_t>((kLongestCut_s + kSpare_s) * rate_hz)) {}

// A frame is stored after begun_ has told so (release), and a cut asks begun_ after it has copied (acquire): what put() came upon meanwhile is left out.
void SoundTap::put(std::span<const float> frames) noexcept {
    std::uint64_t at = written_.load(std::memory_order_relaxed);
    begun_.store(at + frames.size(), std::memory_order_release);
    for (const float frame : frames) kept_[at++ % kept_.size()].store(frame, std::memory_order_release);
    written_.store(at, std::memory_order_release);
}

std::vector<float> SoundTap::cut(double from_s, double to_s) const {
    const std::uint64_t there = written_.load(std::memory_order_acquire), oldest = there > cut_frames_ ? there - cut_frames_ : 0;
    const auto frame_at = [&](double at_s) {
        const double frame = std::round(std::max(at_s, 0.0) * rate_hz_);
        return std::clamp(static_cast<std::uint64_t>(std::min(frame, 1e15)), oldest, there);
    };
    const std::uint64_t from = frame_at(from_s), to = frame_at(to_s);
    std::vector<float> out;
    out.reserve(to > from ? to - from : 0);
    for (std::uint64_t frame = from; frame < to; ++frame) out.push_back(kept_[frame % kept_.size()].load(std::memory_order_acquire));
    const std::uint64_t begun = begun_.load(std::memory_order_acquire), gone = begun > kept_.size() ? begun - kept_.size() : 0;
    if (gone > from) out.erase(out.begin(), out.begin() + static_cast<std::ptrdiff_t>(std::min<std::uint64_t>(gone - from, out.size())));
    return out;
}

}  // namespace gripline
