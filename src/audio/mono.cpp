#include "audio/mono.h"

#include <algorithm>
#include <cmath>

namespace gripline {
namespace {

/// No converter and no recording reaches 40 dB over full scale; such numbers are damage.
constexpr float kLargestSample = 100.0F;

}  // namespace

MixCount mix_to_mono(std::span<const float> interleaved, int channels, int only_channel, std::span<float> mono) noexcept {
    MixCount count;
    const int first = only_channel > 0 ? std::min(only_channel, channels) - 1 : 0;
    const int taken = only_channel > 0 ? 1 : channels;
    for (std::size_t frame = 0; frame < mono.size(); ++frame) {
        const float* at = interleaved.data() + frame * static_cast<std::size_t>(channels) + first;
        float sum = 0.0F;
        bool clipped = false;
        for (int channel = 0; channel < taken; ++channel) {
            const float sample = at[channel];
            if (!(std::fabs(sample) < kLargestSample)) {  // true for NaN too
                ++count.bad_samples;
                continue;
            }
            clipped = clipped || std::fabs(sample) >= kFullScale;
            sum += sample;
        }
        mono[frame] = sum / static_cast<float>(taken);
        count.clipped_frames += clipped ? 1 : 0;
    }
    return count;
}

}  // namespace gripline
