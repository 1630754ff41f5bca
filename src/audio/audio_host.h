// The sound library behind an interface: PortAudio in life, a fake in tests. All calls come from one thread (sound_card.h); any may hang.
#pragma once

#include <memory>
#include <vector>

#include "audio/device.h"
#include "audio/feed.h"
#include "base/result.h"

namespace gripline {

struct StreamPlan {
    Device device;
    SoundDirection direction = SoundDirection::input;
    int channels = 2;
    int rate_hz = 48000;
    int block_frames = 256;  ///< 128 loses input under load, 512 adds 5 ms (measured on a private PulseAudio)
};

/// A stream that runs from when it is made. Destruction aborts and closes it.
class HostStream {
public:
    virtual ~HostStream() = default;
    /// False once the library has seen it end.
    [[nodiscard]] virtual bool active() const = 0;
    /// False when closing it now would hang for ever (JACK gone): then it must be left as it is, and the library too.
    [[nodiscard]] virtual bool may_close() const = 0;
};

class AudioHost {
public:
    virtual ~AudioHost() = default;
    /// Begins, or begins anew (all streams must be closed), and so finds the devices of this moment.
    virtual Result<std::vector<Device>> begin() = 0;
    virtual void end() = 0;
    [[nodiscard]] virtual bool takes_rate(const StreamPlan& plan) = 0;
    /// The stream keeps the feed alive. Errors say what to do.
    virtual Result<std::unique_ptr<HostStream>> open(const StreamPlan& plan, std::shared_ptr<InputFeed> feed) = 0;
    virtual Result<std::unique_ptr<HostStream>> open(const StreamPlan& plan, std::shared_ptr<OutputFeed> feed) = 0;
};

/// The host of real life.
[[nodiscard]] std::unique_ptr<AudioHost> make_port_audio();

}  // namespace gripline
