// What the dsp chain knows about one strum at one moment: a plain block of numbers that crosses threads by copy.
#pragma once

#include <array>
#include <complex>
#include <cstdint>

namespace gripline::dsp {

/// Rate of the analysis, whatever the rate of the source.
inline constexpr int kAnalysisRateHz = 12000;
/// Bins of every spectrum: 0 to 4.2 kHz in steps of kBinHz.
inline constexpr int kSpectrumBins = 1440;
inline constexpr double kBinHz = 12000.0 / 4096.0;
/// The bin nearest to a frequency.
[[nodiscard]] constexpr int bin_of(double hz) noexcept { return static_cast<int>(hz * (1.0 / kBinHz) + 0.5); }

/// Linear magnitudes, bin i at i * kBinHz, scaled so that a full-scale sine reads 1.
using Spectrum = std::array<float, kSpectrumBins>;

/// Bins of a spectrum with phases: 0 to 2.1 kHz in steps of kBinHz.
inline constexpr int kPhasedBins = 720;

/// A Hann-windowed spectrum whose phases refer to the middle of its window, so that partials closer together than the
/// window's lobe can be told apart by a linear fit (their places are known; the window's transform is real).
struct PhasedSpectrum {
    float length_s = 0.0F;  ///< of the window; 0: nothing heard
    std::array<std::complex<float>, kPhasedBins> bins{};
    /// The value at `hz`, between bins on a straight line; 0 beyond the last bin.
    [[nodiscard]] std::complex<float> at(float hz) const noexcept {
        const float place = hz / static_cast<float>(kBinHz);
        const auto low = static_cast<std::size_t>(place);
        if (low + 1 >= bins.size()) return {};
        const float part = place - static_cast<float>(low);
        return (1.0F - part) * bins[low] + part * bins[low + 1];
    }
};


/// One strum as heard so far. Several come for each strum, `step` 0, 1, ... ; the last has `last` set.
struct StrumEvidence {
    std::uint64_t strum = 0;   ///< counts strums from 1
    int step = 0;
    bool last = false;
    double onset_s = 0.0;      ///< stream time at which the first string sounded
    double heard_s = 0.0;      ///< stream time up to which sound was used
    double level_db = -120.0;  ///< peak RMS of the strum so far, dB below full scale
    double noise_db = -120.0;  ///< RMS before the strum
    double tuning_cents = 0.0; ///< whole guitar against A4 = 440 Hz, -50 to 50; + is sharp
    Spectrum before{};         ///< what sounded before the strum
    Spectrum attack{};         ///< the first 90 ms
    Spectrum body{};           ///< the longest window that ends at heard_s and begins after the attack's first part
    Spectrum late{};           ///< the last 90 ms up to heard_s
    PhasedSpectrum earlier;    ///< from just after the onset to a little over the middle of what was heard
    PhasedSpectrum later;      ///< the same length, up to heard_s
    float apart_s = 0.0F;      ///< from the middle of `earlier` to that of `later`
    PhasedSpectrum whole;      ///< from the start of `earlier` to the end of `later`
    PhasedSpectrum rang;       ///< what sounded just before the strum
    float rang_apart_s = 0.0F; ///< from the middle of `rang` to that of `earlier`
};

}  // namespace gripline::dsp
