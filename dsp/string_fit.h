// One stiff string fitted to spectral peaks: which fundamental, how stiff, how well.
#pragma once

#include "dsp/spectral_peaks.h"

namespace gripline::dsp {

/// Partials at n f0 sqrt(1 + B n^2) (Fletcher, J. Acoustical Society of America 36, 1964).
struct StringFit {
    double first_hz = 0.0;   ///< the first partial, f0 sqrt(1 + B); 0 when nothing fits
    double stiffness = 0.0;  ///< B
    int partials = 0;        ///< peaks that it explains
    double clarity = 0.0;    ///< 0 to 1: explained share of the peaks, less what is predicted but not there
};

/// The string between lowest_hz and highest_hz that explains the peaks best. `reach_hz`: no peaks were looked for above.
[[nodiscard]] StringFit fit_string(const SpectralPeaks& peaks, double window_s, double lowest_hz, double highest_hz, double reach_hz) noexcept;

}  // namespace gripline::dsp
