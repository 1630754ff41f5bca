// A source that a test fills, breaks off, brings back and ends, on any thread.
#pragma once

#include <atomic>
#include <memory>

#include "audio/ring.h"
#include "audio/sound_source.h"

namespace gripline::test {

/// What the test holds while the listener owns the source.
struct FakeFeed {
    SpscRing<float> ring{1U << 21U};
    std::atomic<SourceState> state{SourceState::running};
    std::atomic<std::uint64_t> lost{0};
};

class FakeSource final : public SoundSource {
public:
    explicit FakeSource(std::shared_ptr<FakeFeed> feed, int rate_hz = 48000) : feed_(std::move(feed)), rate_hz_(rate_hz) {}
    [[nodiscard]] int rate_hz() const override { return rate_hz_; }
    std::size_t read(std::span<float> frames) noexcept override { return feed_->ring.read(frames); }
    [[nodiscard]] SourceState state() const noexcept override { return feed_->state; }
    [[nodiscard]] std::uint64_t lost_frames() const noexcept override { return feed_->lost; }
    [[nodiscard]] std::string name() const override { return "fake source"; }
    [[nodiscard]] std::string trouble() const override { return feed_->state == SourceState::lost ? "pulled out" : ""; }

private:
    std::shared_ptr<FakeFeed> feed_;
    int rate_hz_;
};

}  // namespace gripline::test
