// Many channels to one, by one rule for devices and recordings: the mean of the channels.
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>

namespace gripline {

/// A sample at or above this counts as clipped: 32767/32768 of a 16-bit converter lies above, and so does float full scale.
inline constexpr float kFullScale = 0.9999F;

/// What was met while mixing.
struct MixCount {
    std::uint64_t clipped_frames = 0;  ///< any channel at full scale
    std::uint64_t bad_samples = 0;     ///< NaN, infinite, or 40 dB and more over full scale: taken as 0
};

/// interleaved: frames * channels samples; mono: as many frames. only_channel: 1, 2, ... takes that channel alone, 0 the mean.
/// The mean, and not the first channel: a guitar is as often in the right channel as in the left, and two equal channels give their sound back bit by bit.
MixCount mix_to_mono(std::span<const float> interleaved, int channels, int only_channel, std::span<float> mono) noexcept;

}  // namespace gripline
