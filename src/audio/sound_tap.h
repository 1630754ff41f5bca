// What a source gives is kept for a while, so that the sound behind an answer can be saved.
#pragma once

#include <atomic>
#include <cstdint>
#include <memory>
#include <span>
#include <utility>
#include <vector>

#include "audio/sound_source.h"

namespace gripline {

/// The reader of the source puts frames in, another thread takes cuts out. The last kLongestCut_s are there, whether anybody took cuts meanwhile or not.
class SoundTap {
public:
    static constexpr double kLongestCut_s = 90.0;  ///< 18 MB at 48 kHz; longer answers lose their beginning

    explicit SoundTap(int rate_hz);
    /// The source's reader: never waits, never allocates. The oldest frames make room.
    void put(std::span<const float> frames) noexcept;
    /// Frames from one stream time to another, as far as they are kept. One thread at a time.
    [[nodiscard]] std::vector<float> cut(double from_s, double to_s) const;
    [[nodiscard]] int rate_hz() const noexcept { return rate_hz_; }

private:
    int rate_hz_;
    std::uint64_t cut_frames_;
    std::vector<std::atomic<float>> kept_;                 // a circle of the last frames
    std::atomic<std::uint64_t> begun_{0}, written_{0};     // frames since the start: those that put() may be at, those that are there
};

/// A source that passes on what another gives, and puts it into a tap.
class TappedSource final : public SoundSource {
public:
    TappedSource(std::unique_ptr<SoundSource> source, std::shared_ptr<SoundTap> tap) : source_(std::move(source)), tap_(std::move(tap)) {}
    [[nodiscard]] int rate_hz() const override { return source_->rate_hz(); }
    std::size_t read(std::span<float> frames) noexcept override {
        const std::size_t got = source_->read(frames);
        tap_->put(frames.first(got));
        return got;
    }
    [[nodiscard]] SourceState state() const noexcept override { return source_->state(); }
    [[nodiscard]] std::uint64_t lost_frames() const noexcept override { return source_->lost_frames(); }
    [[nodiscard]] std::uint64_t clipped_frames() const noexcept override { return source_->clipped_frames(); }
    [[nodiscard]] std::string name() const override { return source_->name(); }
    [[nodiscard]] std::string trouble() const override { return source_->trouble(); }

private:
    std::unique_ptr<SoundSource> source_;
    std::shared_ptr<SoundTap> tap_;
};

}  // namespace gripline
