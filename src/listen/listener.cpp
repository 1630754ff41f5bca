#include "listen/listener.h"

#include <array>
#include <atomic>
#include <chrono>
#include <limits>
#include <optional>
#include <thread>
#include <utility>

#include "audio/ring.h"
#include "dsp/muted_strum.h"
#include "listen/input_meter.h"
#include "listen/latest.h"
#include "listen/ongoing_chain.h"

namespace gripline {
namespace {

/// How long the thread sleeps when nothing waits: short against a hop (5.3 ms), long enough to cost next to nothing.
constexpr std::chrono::microseconds kNap(2500);
/// Evidence that may wait for the screen thread: ten strums.
constexpr std::size_t kEvidenceRoom = 64;
constexpr std::size_t kMutedRoom = 64;
/// Sound between two refreshes of the input state.
constexpr double kRefresh_s = 1.0 / 30.0;
/// And wall time between two, when no sound comes: naps.
constexpr int kRefreshNaps = 13;

}  // namespace

struct Listener::Inside {
    std::unique_ptr<SoundSource> source;
    OngoingChain chain;
    InputMeter meter;
    std::optional<dsp::MutedStrumDetector> muted;
    double muted_from_s = 0.0;  // stream time at which its own begins
    SpscRing<dsp::StrumEvidence> evidence{kEvidenceRoom};
    SpscRing<dsp::MutedStrum> muted_strums{kMutedRoom};
    mutable Latest<InputState> latest;
    std::array<float, kHopFrames> hop{};
    std::atomic<bool> stopping{false}, clicks_left_out{false};
    std::thread thread;
    double refreshed_s = -1.0;
    int naps = 0;
    bool broken_off = false;

    Inside(std::unique_ptr<SoundSource> from, const ListenerConfig& config) : source(std::move(from)), chain(source->rate_hz()), meter(source->rate_hz()) {
        if (config.muted_strums) muted.emplace(dsp::MutedStrumConfig{.rate_hz = source->rate_hz()});
    }

    void run() noexcept;
    [[nodiscard]] bool hear_hop() noexcept;
    void rest() noexcept;
    void hand_out_evidence() noexcept;
    void hand_out_muted() noexcept;
    void refresh() noexcept;
};

void Listener::Inside::run() noexcept {
    while (!stopping.load(std::memory_order_relaxed))
        if (!hear_hop()) rest();
}

/// Hears what is ready, up to a hop; false when that was less than a hop, so that it is time for a nap.
bool Listener::Inside::hear_hop() noexcept {
    const std::size_t got = source->read(hop);
    if (got == 0) return false;
    broken_off = false;
    const std::span<const float> frames(hop.data(), got);
    if (muted) {
        muted->process(frames);
        hand_out_muted();
    }
    chain.leave_out_clicks(clicks_left_out.load(std::memory_order_relaxed));
    chain.process(frames);
    meter.process(frames, source->clipped_frames());
    meter.observe(chain.level_db(), chain.hum_db());
    hand_out_evidence();
    if (chain.stream_s() - refreshed_s >= kRefresh_s) refresh();
    return got == hop.size();
}

void Listener::Inside::rest() noexcept {
    const SourceState state = source->state();
    if (state != SourceState::running && !broken_off) {
        chain.finish();
        hand_out_evidence();
        if (state == SourceState::lost) {
            chain.begin_anew();
            muted_from_s = chain.stream_s();
            if (muted) muted->reset();
            meter.reset();
        }
        broken_off = true;
        refresh();
    }
    if (++naps >= kRefreshNaps) refresh();
    std::this_thread::sleep_for(kNap);
}

void Listener::Inside::hand_out_evidence() noexcept {
    while (dsp::StrumEvidence* const place = evidence.write_place()) {
        if (!chain.take(*place)) break;
        evidence.publish();
    }
}

/// Before the evidence of the same sound, so that whoever has the evidence has these.
void Listener::Inside::hand_out_muted() noexcept {
    dsp::MutedStrum one;
    while (muted->take(one)) {
        one.at_s += muted_from_s;
        (void)muted_strums.write({&one, 1});
    }
}

void Listener::Inside::refresh() noexcept {
    latest.set({.stream_s = chain.stream_s(),
                .level_db = broken_off ? -120.0 : chain.level_db(),
                .peak_db = meter.peak_db(),
                .clipping = meter.clipping(),
                .hum = meter.hum(),
                .silent = meter.silent(),
                .source = source->state(),
                .lost_frames = source->lost_frames(),
                .decided_s = muted ? muted_from_s + muted->decided_s() : std::numeric_limits<double>::infinity()});
    refreshed_s = chain.stream_s();
    naps = 0;
}

Listener::Listener(std::unique_ptr<SoundSource> source, const ListenerConfig& config) : inside_(std::make_unique<Inside>(std::move(source), config)) {}
Listener::~Listener() { stop(); }

void Listener::start() {
    if (inside_->thread.joinable()) return;
    inside_->stopping.store(false);
    inside_->thread = std::thread([inside = inside_.get()] { inside->run(); });
}

void Listener::stop() {
    inside_->stopping.store(true);
    if (inside_->thread.joinable()) inside_->thread.join();
}

std::unique_ptr<SoundSource> Listener::give_source() {
    stop();
    return std::move(inside_->source);
}

void Listener::leave_out_clicks(bool leave_out) { inside_->clicks_left_out.store(leave_out, std::memory_order_relaxed); }
bool Listener::take(dsp::StrumEvidence& evidence) { return inside_->evidence.read_one(evidence); }
bool Listener::take_muted(dsp::MutedStrum& muted) { return inside_->muted_strums.read_one(muted); }
InputState Listener::input() const { return inside_->latest.get(); }
std::string Listener::source_name() const { return inside_->source->name(); }
std::string Listener::trouble() const { return inside_->source->trouble(); }

}  // namespace gripline
