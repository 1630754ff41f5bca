#include "audio/feed.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "audio/mono.h"

namespace gripline {
namespace {

constexpr std::size_t kChunkFrames = 256;
/// A gap in the device's time is believed up to this; beyond it, the device's clock was set anew.
constexpr double kLongestGap_s = 10.0;
/// Fade of hushed sound: short enough to feel immediate, long enough not to click.
constexpr std::size_t kHushFade_frames = 256;
/// One-pole step of the gain a frame: settled in about 10 ms at 48 kHz.
constexpr float kGainStep = 0.01F;

}  // namespace

void StampBox::set(const FrameStamp& stamp) noexcept {
    turn_.fetch_add(1, std::memory_order_acq_rel);
    frame_.store(stamp.frame, std::memory_order_relaxed);
    adc_s_.store(stamp.adc_s, std::memory_order_relaxed);
    clock_s_.store(stamp.clock_s, std::memory_order_relaxed);
    turn_.fetch_add(1, std::memory_order_release);
}

std::optional<FrameStamp> StampBox::get() const noexcept {
    FrameStamp stamp;
    std::uint64_t before = 0;
    do {
        before = turn_.load(std::memory_order_acquire);
        if (before == 0) return std::nullopt;
        stamp = {frame_.load(std::memory_order_acquire), adc_s_.load(std::memory_order_acquire), clock_s_.load(std::memory_order_acquire)};
    } while (before % 2 != 0 || before != turn_.load(std::memory_order_acquire));
    return stamp;
}

InputFeed::InputFeed(const InputFeedConfig& config)
    : rate_hz_(config.rate_hz), only_channel_(config.only_channel), ring_(config.room_frames) {}

void InputFeed::take(const InputBlock& block) noexcept {
    if (block.overflow) count_lost(block);
    stamp_.set({frames_, block.adc_s, block.clock_s});

    std::array<float, kChunkFrames> mono;
    const auto channels = static_cast<std::size_t>(block.channels);
    for (std::size_t done = 0; done < block.frames; done += kChunkFrames) {
        const std::size_t count = std::min(kChunkFrames, block.frames - done);
        const std::span<float> chunk(mono.data(), count);
        std::uint64_t clipped = 0;
        if (block.interleaved == nullptr) std::fill(chunk.begin(), chunk.end(), 0.0F);
        else clipped = mix_to_mono({block.interleaved + done * channels, count * channels}, block.channels, only_channel_, chunk).clipped_frames;
        clipped_frames_.fetch_add(clipped, std::memory_order_relaxed);
        lost_frames_.fetch_add(count - ring_.write(chunk), std::memory_order_relaxed);
    }
    frames_ += block.frames;
    expected_adc_s_.store(block.adc_s + static_cast<double>(block.frames) / rate_hz_, std::memory_order_relaxed);
    blocks_.fetch_add(1, std::memory_order_release);
}

void InputFeed::count_lost(const InputBlock& block) noexcept {
    const double expected_s = expected_adc_s_.load(std::memory_order_relaxed);
    const double gap_s = expected_s < 0.0 ? 0.0 : block.adc_s - expected_s;
    const double gap_frames = gap_s > 0.0 && gap_s < kLongestGap_s ? std::round(gap_s * rate_hz_) : 0.0;
    lost_frames_.fetch_add(gap_frames >= 1.0 ? static_cast<std::uint64_t>(gap_frames) : block.frames, std::memory_order_relaxed);
}

OutputFeed::OutputFeed(std::size_t room_frames) : ring_(room_frames) {}

std::size_t OutputFeed::write(std::span<const float> frames) noexcept {
    const std::size_t count = ring_.write(frames);
    written_ += count;
    return count;
}

std::size_t OutputFeed::read_waiting(std::span<float> to) noexcept {
    const std::size_t count = ring_.read(to);
    read_ += count;
    return count;
}

void OutputFeed::give(float* interleaved, std::size_t frames, int channels, double clock_s) noexcept {
    if (clock_s != 0.0 && ring_.size() > 0) stamp_.set({read_, 0.0, clock_s});
    std::array<float, kChunkFrames> mono;
    const float gain = gain_.load(std::memory_order_relaxed);
    for (std::size_t done = 0; done < frames;) {
        std::size_t count = std::min(kChunkFrames, frames - done);
        const std::uint64_t hush_upto = hush_upto_.load(std::memory_order_acquire);
        const std::size_t to_hush = hush_upto > read_ ? static_cast<std::size_t>(hush_upto - read_) : 0;
        if (to_hush > 0) count = std::min(count, to_hush);
        const std::size_t got = read_waiting({mono.data(), count});
        if (got < count && to_hush == 0 && expected_.load(std::memory_order_relaxed)) starved_.fetch_add(count - got, std::memory_order_relaxed);
        std::fill(mono.begin() + static_cast<std::ptrdiff_t>(got), mono.begin() + static_cast<std::ptrdiff_t>(count), 0.0F);
        if (to_hush > 0) {
            const std::size_t fade = std::min(count, kHushFade_frames);
            for (std::size_t i = 0; i < count; ++i) mono[i] *= i < fade ? 1.0F - static_cast<float>(i + 1) / static_cast<float>(fade) : 0.0F;
            read_ += ring_.drop(static_cast<std::size_t>(hush_upto - read_));
        }
        for (std::size_t i = 0; i < count; ++i) {
            gain_now_ += kGainStep * (gain - gain_now_);
            const float sample = std::clamp(mono[i] * gain_now_, -1.0F, 1.0F);
            for (int channel = 0; channel < channels; ++channel) *interleaved++ = sample;
        }
        done += count;
    }
    blocks_.fetch_add(1, std::memory_order_release);
}

}  // namespace gripline
