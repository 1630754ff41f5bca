#include "dsp/sound_memory.h"

#include <cmath>

namespace gripline::dsp {

void SoundMemory::process(std::span<const float> frames) noexcept {
    for (const float frame : frames) {
        const std::size_t count = resampler_.push(std::isfinite(frame) ? frame : 0.0F, made_);
        for (std::size_t i = 0; i < count; ++i) history_.push(made_[i]);
    }
}

void SoundMemory::look(double from_s, double to_s, Spectrum& out) noexcept {
    const auto from = static_cast<std::int64_t>(from_s * kAnalysisRateHz + 0.5), to = static_cast<std::int64_t>(to_s * kAnalysisRateHz + 0.5);
    const auto oldest = history_.now() - static_cast<std::int64_t>(kReach_s * kAnalysisRateHz);
    if (from < std::max<std::int64_t>(0, oldest) || to > history_.now() || to <= from) {
        out.fill(0.0F);
        return;
    }
    maker_.make(history_, from, to, out);
}

}  // namespace gripline::dsp
