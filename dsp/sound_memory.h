// The last second and more of a sound, to look back at: spectra as the judge sees them, of any stretch.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "dsp/history.h"
#include "dsp/resampler.h"
#include "dsp/spectrum_maker.h"
#include "dsp/strum_evidence.h"

namespace gripline::dsp {

/// Seconds are counted as PitchEstimator counts them. Allocates in the constructor only.
class SoundMemory {
public:
    /// rate_hz: of the input, 8000 to 192000.
    explicit SoundMemory(int rate_hz) : resampler_({.from_hz = rate_hz, .to_hz = kAnalysisRateHz}), made_(resampler_.max_out()) {}
    /// Mono frames, full scale = 1 (NaN and infinities are heard as 0).
    void process(std::span<const float> frames) noexcept;
    /// Hann-windowed magnitudes of the sound between two instants, both at most kReach_s ago; 0.34 s at most. All 0 when that was too long ago or has not come yet.
    void look(double from_s, double to_s, Spectrum& out) noexcept;
    static constexpr double kReach_s = 1.3;

private:
    Resampler resampler_;
    std::vector<float> made_;
    History history_{static_cast<std::size_t>(kReach_s * kAnalysisRateHz)};
    SpectrumMaker maker_;
};

}  // namespace gripline::dsp
