// The machine's sound devices. One thread of its own makes every call to the sound library, because any of them may hang; it also watches
// the open streams and brings lost ones back.
#pragma once

#include <atomic>
#include <memory>
#include <mutex>
#include <string>
#include <vector>

#include "audio/audio_host.h"
#include "audio/feed.h"
#include "audio/sound_source.h"
#include "audio/stream_watch.h"

namespace gripline {

/// What to open. Empty `device` is the system's default; number or (part of a) name otherwise.
struct LineChoice {
    std::string device;
    int rate_hz = 0;       ///< 0: 48000, or what the device takes
    int only_channel = 0;  ///< input: that channel alone (1, 2, ...); 0: the mean of the first two
};

/// An open input or output: the feed that its callback fills or empties, and how it is. Outlives its stream; state and trouble may be read on any thread.
class SoundLine {
public:
    SoundLine(StreamPlan plan, bool system_default, int only_channel);

    const StreamPlan plan;
    const bool system_default;  ///< chosen as the default: comes back as whatever is the default then
    const std::shared_ptr<InputFeed> in;    ///< input lines
    const std::shared_ptr<OutputFeed> out;  ///< output lines

    [[nodiscard]] SourceState state() const noexcept { return state_.load(std::memory_order_acquire); }
    [[nodiscard]] std::string trouble() const;
    void set(SourceState state, const std::string& trouble);
    /// Asks the sound card to close it, some time soon.
    void let_go() noexcept { let_go_.store(true, std::memory_order_release); }
    [[nodiscard]] bool is_let_go() const noexcept { return let_go_.load(std::memory_order_acquire); }
    [[nodiscard]] std::uint64_t blocks() const noexcept { return in ? in->blocks() : out->blocks(); }

private:
    std::atomic<SourceState> state_{SourceState::running};
    std::atomic<bool> let_go_{false};
    mutable std::mutex words_;  // guards trouble_ between the card's thread and the screen's; no audio thread takes it
    std::string trouble_;
};

struct SoundCardConfig {
    StreamWatchConfig watch;
    double look_s = 0.05;   ///< between two looks at the streams
    double retry_s = 0.3;   ///< between two tries to bring lost ones back: sound is back 0.2 to 0.3 s after a sound server
    double answer_s = 8.0;  ///< for how long a caller waits: a busy device takes a second to say so
};

/// Make one for the program. Every member may be called from any thread but an audio callback; none waits longer than answer_s.
class SoundCard {
public:
    SoundCard();
    explicit SoundCard(std::unique_ptr<AudioHost> host, const SoundCardConfig& config = {});
    /// Closes all lines; leaves the library behind when it hangs.
    ~SoundCard();
    SoundCard(const SoundCard&) = delete;
    SoundCard& operator=(const SoundCard&) = delete;

    /// The devices there are: as of now when no line is open, as of the last opening otherwise.
    Result<std::vector<Device>> devices();
    /// Opens and starts. Errors: none, ambiguous, busy, rate or channel not supported, no answer.
    Result<std::shared_ptr<SoundLine>> open(const LineChoice& choice, SoundDirection direction);

private:
    struct Inside;
    std::shared_ptr<Inside> inside_;
};

}  // namespace gripline
