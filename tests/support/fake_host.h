// A sound library in which a test plugs, unplugs, blocks and kills devices.
#pragma once

#include <atomic>
#include <chrono>
#include <memory>
#include <mutex>
#include <thread>

#include "audio/audio_host.h"

namespace gripline::test {

/// What the test and the fake library share. Streams that are open and alive get a block from pump().
struct FakeWorld {
    std::mutex lock;
    std::vector<Device> devices{{.number = 0, .name = "fake card", .host_api = "FAKE", .inputs = 2, .outputs = 2, .default_rate_hz = 48000, .default_input = true, .default_output = true}};
    std::vector<int> rates_hz{44100, 48000};
    std::atomic<bool> busy{false}, alive{true}, closable{true}, hangs{false};
    std::atomic<int> begun{0}, ended{0}, opened{0}, closed{0};
    std::shared_ptr<InputFeed> in;
    std::shared_ptr<OutputFeed> out;

    /// One callback of each open stream: a block of `value` comes in.
    void pump(float value = 0.25F, std::size_t frames = 256) {
        const std::lock_guard guard(lock);
        std::vector<float> block(2 * frames, value);
        if (in && alive) in->take({.interleaved = block.data(), .frames = frames, .channels = 2});
        if (out && alive) out->give(block.data(), frames, 2);
    }
};

class FakeStream final : public HostStream {
public:
    FakeStream(std::shared_ptr<FakeWorld> world, bool input) : world_(std::move(world)), input_(input) {}
    ~FakeStream() override {
        const std::lock_guard guard(world_->lock);
        if (input_) world_->in.reset();
        else world_->out.reset();
        ++world_->closed;
    }
    [[nodiscard]] bool active() const override { return world_->alive; }
    [[nodiscard]] bool may_close() const override { return world_->closable || world_->alive; }

private:
    std::shared_ptr<FakeWorld> world_;
    bool input_;
};

class FakeHost final : public AudioHost {
public:
    explicit FakeHost(std::shared_ptr<FakeWorld> world) : world_(std::move(world)) {}
    Result<std::vector<Device>> begin() override {
        ++world_->begun;
        while (world_->hangs) std::this_thread::sleep_for(std::chrono::milliseconds(1));
        const std::lock_guard guard(world_->lock);
        return world_->devices;
    }
    void end() override { ++world_->ended; }
    [[nodiscard]] bool takes_rate(const StreamPlan& plan) override {
        const std::lock_guard guard(world_->lock);
        for (const int rate_hz : world_->rates_hz)
            if (rate_hz == plan.rate_hz) return true;
        return false;
    }
    Result<std::unique_ptr<HostStream>> open(const StreamPlan& plan, std::shared_ptr<InputFeed> feed) override {
        return open_with(plan, [&] { world_->in = std::move(feed); });
    }
    Result<std::unique_ptr<HostStream>> open(const StreamPlan& plan, std::shared_ptr<OutputFeed> feed) override {
        return open_with(plan, [&] { world_->out = std::move(feed); });
    }

private:
    template <class Keep>
    Result<std::unique_ptr<HostStream>> open_with(const StreamPlan& plan, Keep keep) {
        if (world_->busy) return Error{"fake card is in use by another program"};
        if (!takes_rate(plan)) return Error{"fake card does not take " + std::to_string(plan.rate_hz) + " Hz"};
        const std::lock_guard guard(world_->lock);
        keep();
        ++world_->opened;
        return std::unique_ptr<HostStream>(std::make_unique<FakeStream>(world_, plan.direction == SoundDirection::input));
    }

    std::shared_ptr<FakeWorld> world_;
};

}  // namespace gripline::test
