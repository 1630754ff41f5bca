// Where sound comes from. A live device, a recording and the built-in player are the same to everything behind this.
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <string>

namespace gripline {

enum class SourceState { running, ended, lost };

/// A stream of mono frames at a fixed rate. `read` is called from one thread only (the analysis thread).
class SoundSource {
public:
    virtual ~SoundSource() = default;
    /// Frames a second, fixed for the life of the source.
    [[nodiscard]] virtual int rate_hz() const = 0;
    /// Copies up to frames.size() mono frames that are ready now; 0 when none is. Never blocks, never allocates.
    virtual std::size_t read(std::span<float> frames) noexcept = 0;
    /// `ended`: no more will come (end of a recording); `lost`: the device stopped, a message is in `trouble()`.
    [[nodiscard]] virtual SourceState state() const noexcept = 0;
    /// Frames that were lost before they could be read (overflow), since the start.
    [[nodiscard]] virtual std::uint64_t lost_frames() const noexcept { return 0; }
    /// Frames in which any channel reached full scale, since the start.
    [[nodiscard]] virtual std::uint64_t clipped_frames() const noexcept { return 0; }
    /// What it is, for the player's eyes: "microphone (2 in, 48000 Hz)", "recording take.wav", "built-in player".
    [[nodiscard]] virtual std::string name() const = 0;
    /// Why the source is lost, and what to do; empty otherwise.
    [[nodiscard]] virtual std::string trouble() const { return {}; }
};

}  // namespace gripline
