// What an audio callback does, apart from any audio library: copy, count, stamp. Nothing here allocates, locks or waits.
#pragma once

#include <atomic>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>

#include "audio/ring.h"

namespace gripline {

/// Which frame (counted from the first of the feed) the device took in, or will give out, when.
struct FrameStamp {
    std::uint64_t frame = 0;
    double adc_s = 0.0;    ///< the device's own seconds; inputs alone
    double clock_s = 0.0;  ///< the same instant on the machine's steady clock; 0: not known
};

/// A stamp that crosses threads whole: a sequence lock of atomics, odd while it changes.
class StampBox {
public:
    /// One thread alone.
    void set(const FrameStamp& stamp) noexcept;
    /// Any thread; nullopt before the first.
    [[nodiscard]] std::optional<FrameStamp> get() const noexcept;

private:
    std::atomic<std::uint64_t> turn_{0}, frame_{0};
    std::atomic<double> adc_s_{0.0}, clock_s_{0.0};
};

/// One block as the device hands it over.
struct InputBlock {
    const float* interleaved = nullptr;  ///< frames * channels samples; nullptr counts as silence
    std::size_t frames = 0;
    int channels = 1;
    double adc_s = 0.0;     ///< the device's time of the first frame
    double clock_s = 0.0;   ///< the same on the machine's steady clock; 0: not known
    bool overflow = false;  ///< the device says that frames before this block were lost
};

struct InputFeedConfig {
    int rate_hz = 48000;
    std::size_t room_frames = 131072;  ///< 2.7 s at 48 kHz: far longer than the reader ever sleeps
    int only_channel = 0;              ///< 1, 2, ...: listen to that channel alone; 0: the mean of all opened
};

/// Device to reader. Mono is the mean of the channels: the same rule as for recordings, so that a take sounds the same live and from its file.
class InputFeed {
public:
    explicit InputFeed(const InputFeedConfig& config);

    /// The callback's side.
    void take(const InputBlock& block) noexcept;

    /// The reader's side: copies what waits, up to frames.size().
    std::size_t read(std::span<float> frames) noexcept {
        const std::size_t count = ring_.read(frames);
        read_.fetch_add(count, std::memory_order_relaxed);
        return count;
    }
    /// Frames read so far: while none was lost for want of a reader, the number (as in stamp()) of the next one.
    [[nodiscard]] std::uint64_t frames_read() const noexcept { return read_.load(std::memory_order_relaxed); }

    /// Any thread. Frames lost because the device overran (from the gap in its time; a whole block when that shows none)
    /// or because nobody read.
    [[nodiscard]] std::uint64_t lost_frames() const noexcept { return lost_frames_.load(std::memory_order_relaxed); }
    /// Frames in which any channel reached full scale.
    [[nodiscard]] std::uint64_t clipped_frames() const noexcept { return clipped_frames_.load(std::memory_order_relaxed); }
    /// Callbacks so far; standing still means that the device stopped.
    [[nodiscard]] std::uint64_t blocks() const noexcept { return blocks_.load(std::memory_order_relaxed); }
    /// Stamp of the last block; nullopt before the first.
    [[nodiscard]] std::optional<FrameStamp> stamp() const noexcept { return stamp_.get(); }
    /// A stream begins anew behind this feed: the next block's time has no gap to the last one's.
    void forget_time() noexcept { expected_adc_s_.store(-1.0, std::memory_order_relaxed); }

private:
    void count_lost(const InputBlock& block) noexcept;

    int rate_hz_, only_channel_;
    SpscRing<float> ring_;
    std::atomic<std::uint64_t> lost_frames_{0}, clipped_frames_{0}, blocks_{0}, read_{0};
    std::atomic<double> expected_adc_s_{-1.0};
    StampBox stamp_;
    std::uint64_t frames_ = 0;
};

/// Writer to device.
class OutputFeed {
public:
    /// room_frames: how much may wait to be played.
    explicit OutputFeed(std::size_t room_frames);

    /// The callback's side: fills frames * channels samples, the mono sound on every channel, silence where nothing waits.
    /// clock_s: when the first of them will be heard, on the machine's steady clock; 0: not known.
    void give(float* interleaved, std::size_t frames, int channels, double clock_s = 0.0) noexcept;

    /// The writer's side: queues what fits, returns how much that was.
    std::size_t write(std::span<const float> frames) noexcept;
    /// The writer's side: frames written so far; the next one has this number.
    [[nodiscard]] std::uint64_t written_frames() const noexcept { return written_; }
    /// The writer's side: from now on, or no longer, silence for want of frames is counted.
    void expect_sound(bool expected) noexcept { expected_.store(expected, std::memory_order_relaxed); }
    /// Any thread. Frames of silence given while sound was expected: what comes after them is late by so much.
    [[nodiscard]] std::uint64_t starved_frames() const noexcept { return starved_.load(std::memory_order_relaxed); }
    /// Any thread. Stamp of the last block that began with a written frame (counted as in written_frames()); nullopt before the first.
    [[nodiscard]] std::optional<FrameStamp> stamp() const noexcept { return stamp_.get(); }
    /// The writer's side: what waits is faded out within a few milliseconds and dropped; what is written after this plays.
    void hush() noexcept { hush_upto_.store(written_, std::memory_order_release); }
    /// Linear factor on everything; reached smoothly.
    void set_gain(float gain) noexcept { gain_.store(gain, std::memory_order_relaxed); }
    [[nodiscard]] std::uint64_t blocks() const noexcept { return blocks_.load(std::memory_order_relaxed); }
    [[nodiscard]] std::size_t waiting_frames() const noexcept { return ring_.size(); }
    [[nodiscard]] std::size_t room_frames() const noexcept { return ring_.capacity() - ring_.size(); }

private:
    std::size_t read_waiting(std::span<float> to) noexcept;

    SpscRing<float> ring_;
    std::uint64_t written_ = 0, read_ = 0;  // each owned by its side
    std::atomic<std::uint64_t> hush_upto_{0}, blocks_{0}, starved_{0};
    std::atomic<bool> expected_{false};
    StampBox stamp_;
    std::atomic<float> gain_{1.0F};
    float gain_now_ = 1.0F;
};

}  // namespace gripline
