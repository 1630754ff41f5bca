// The analysis thread: pulls frames from a source, runs the dsp chain hop by hop, hands out plain snapshots.
#pragma once

#include <limits>
#include <memory>
#include <optional>

#include "audio/sound_source.h"
#include "dsp/strum_evidence.h"

namespace gripline::dsp {
struct MutedStrum;
}

namespace gripline {

/// The input as the player should see it, refreshed about 30 times a second.
struct InputState {
    double stream_s = 0.0;      ///< sound heard so far
    double level_db = -120.0;   ///< RMS of the last 50 ms, dB below full scale
    double peak_db = -120.0;    ///< highest sample of the last second
    bool clipping = false;      ///< full-scale samples within the last second
    bool hum = false;           ///< mains hum louder than a soft strum would allow
    bool silent = false;        ///< no signal at all for two seconds: cable, mute, wrong input
    SourceState source = SourceState::running;
    std::uint64_t lost_frames = 0;
    /// Of strums that began before this instant of the stream it is known whether they were muted ones. For ever: nobody looks for those.
    double decided_s = std::numeric_limits<double>::infinity();
};

struct ListenerConfig {
    bool muted_strums = false;  ///< looks for them, for take_muted() and InputState::decided_s
};

/// Owns the source and the thread. All members are called from one thread (the screen's); none blocks for longer than a copy.
class Listener {
public:
    explicit Listener(std::unique_ptr<SoundSource> source, const ListenerConfig& config = {});
    ~Listener();
    Listener(const Listener&) = delete;
    Listener& operator=(const Listener&) = delete;

    void start();
    void stop();
    /// Stops and hands the source on, to be listened to otherwise. Afterwards only destroy the listener.
    [[nodiscard]] std::unique_ptr<SoundSource> give_source();
    /// Whether the tool's own clicks may come back through this input: then they are not listened to (StrumChain::leave_out_clicks). At any time.
    void leave_out_clicks(bool leave_out);
    /// Takes the oldest evidence not yet taken; false when there is none.
    bool take(dsp::StrumEvidence& evidence);
    /// Takes the oldest muted strum not yet taken (those are told about 0.2 s after they began); false when there is none, or they were not wished for.
    bool take_muted(dsp::MutedStrum& muted);
    [[nodiscard]] InputState input() const;
    [[nodiscard]] std::string source_name() const;
    [[nodiscard]] std::string trouble() const;

private:
    struct Inside;
    std::unique_ptr<Inside> inside_;
};

}  // namespace gripline
