// What the walk screen needs of the world of sound: an input to listen to, an output to play through, and where one lies in the other.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>

#include "audio/strum.h"
#include "base/result.h"
#include "dsp/strum_evidence.h"
#include "listen/listener.h"

namespace gripline {

/// How long a sound takes from the output's stamp to the input's, beyond what both devices' own stamps say: measured, or 0.
struct MeasuredDelay {
    double delay_ms = 0.0;
    double spread_ms = 0.0;  ///< standard deviation of the single clicks
    bool by_hand = false;    ///< played along, not heard from the output
};

/// Called from one thread (the screen's). The tool's music is counted in seconds from begin_music().
class WalkSound {
public:
    virtual ~WalkSound() = default;

    /// Takes the oldest evidence not yet taken; false when there is none, and always without an input.
    virtual bool take(dsp::StrumEvidence& evidence) = 0;
    [[nodiscard]] virtual InputState input() const = 0;
    /// There is an input to listen to.
    [[nodiscard]] virtual bool hears() const = 0;
    /// There is an output to play through.
    [[nodiscard]] virtual bool sounds() const = 0;
    [[nodiscard]] virtual std::string source_name() const = 0;
    [[nodiscard]] virtual std::string output_name() const = 0;
    /// Which device of those in use is lost, and what to do; empty while all is well.
    [[nodiscard]] virtual std::string trouble() const = 0;

    /// Frames a second of write().
    [[nodiscard]] virtual int rate_hz() const = 0;
    /// Silences what still waits; the next frame written is at music second 0.
    virtual void begin_music() = 0;
    /// How many frames should be written now, so that the music never runs dry.
    [[nodiscard]] virtual std::size_t wanted_frames() const = 0;
    virtual void write(std::span<const float> frames) = 0;
    virtual void end_music() = 0;
    /// Looks at the streams' clocks; often, or what follows grows stale.
    virtual void look() = 0;
    /// The music second that is heard now; below 0 before the first frame is.
    [[nodiscard]] virtual double heard_s() const = 0;
    /// Where music second 0 lies in the input's stream, for what is played together with what is heard: the measured delay included. Nothing
    /// until the clocks are known (a tenth of a second), and without an input.
    [[nodiscard]] virtual std::optional<double> input_origin_s() const = 0;
    /// Frames of silence since begin_music() for want of music: the machine was too slow.
    [[nodiscard]] virtual std::uint64_t gap_frames() const = 0;

    virtual void set_volume_db(double volume_db) = 0;
    [[nodiscard]] virtual double volume_db() const = 0;
    /// Nothing: not measured on these devices.
    virtual void set_delay(const std::optional<MeasuredDelay>& delay) = 0;
    [[nodiscard]] virtual std::optional<MeasuredDelay> delay() const = 0;

    /// Listens to plain sound for a measurement, or to strums again. Stream time begins anew.
    virtual void listen_plainly(bool plainly) = 0;
    /// Plain frames that wait, up to frames.size(); 0 while listening to strums.
    virtual std::size_t read_plain(std::span<float> frames) = 0;
    /// Rate of the input's frames.
    [[nodiscard]] virtual int input_rate_hz() const = 0;
    /// The built-in player, when it is the input, strums at this second of the input's stream.
    virtual bool player_strums(const Strum& strum, double stream_s) = 0;
};

}  // namespace gripline
