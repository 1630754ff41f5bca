// Magnitude spectra of stretches of the history.
#pragma once

#include <complex>
#include <cstdint>
#include <vector>

#include "dsp/history.h"
#include "dsp/real_fft.h"
#include "dsp/strum_evidence.h"

namespace gripline::dsp {

/// Hann-windowed, zero-padded spectra on one grid, whatever the length of the stretch.
class SpectrumMaker {
public:
    static constexpr std::size_t kSize = 4096;
    SpectrumMaker();
    /// Spectrum of samples from..to (stream indices, at most kSize of them, inside the history). A full-scale sine reads 1; an empty stretch 0.
    void make(const History& history, std::int64_t from, std::int64_t to, Spectrum& out) noexcept;
    /// The same with phases, which refer to the middle of the stretch.
    void make(const History& history, std::int64_t from, std::int64_t to, PhasedSpectrum& out) noexcept;

private:
    bool transform(const History& history, std::int64_t from, std::int64_t to) noexcept;
    RealFft fft_{kSize};
    std::vector<float> buffer_;
    std::vector<float> cosine_;  // one turn in kSize * 8 steps, for windows of any length
    std::vector<std::complex<float>> bins_;
};

}  // namespace gripline::dsp
