// Peaks of one magnitude spectrum, with their frequencies between the bins.
#pragma once

#include <array>
#include <cstddef>
#include <span>

namespace gripline::dsp {

struct SpectralPeak {
    double hz = 0.0;
    float root = 0.0F;      ///< square root of its magnitude against the highest peak's, 0 to 1
    float above_floor = 0.0F;  ///< its magnitude against the noise beside it
    double error_hz = 0.0;  ///< standard deviation of hz that the noise beside it gives
    bool may_be_hum = false;  ///< stands on a multiple of 50 or 60 Hz while mains hum is there
};

/// The strongest peaks, low to high in frequency. Plain and of fixed size.
class SpectralPeaks {
public:
    static constexpr std::size_t kMost = 48;
    /// `magnitudes`: bin i at i * bin_hz, of a Hann window of window_s seconds, zero-padded to at least twice its length. `scratch`: as long; is
    /// written over. Finds peaks from low_hz up to the last bin that stand out of the noise of their octave.
    void find(std::span<const float> magnitudes, double bin_hz, double window_s, double low_hz, std::span<float> scratch) noexcept;
    [[nodiscard]] std::span<const SpectralPeak> all() const noexcept { return {peaks_.data(), count_}; }
    /// Sum of the roots of the peaks that are not hum.
    [[nodiscard]] float total_but_hum() const noexcept { return total_; }

    /// Mains hum is there.
    [[nodiscard]] bool hum() const noexcept { return hum_; }

private:
    void keep(const SpectralPeak& peak) noexcept;
    void mark_hum(double mains_hz, double window_s) noexcept;
    std::array<SpectralPeak, kMost> peaks_{};
    std::size_t count_ = 0;
    float total_ = 0.0F;
    bool hum_ = false;
};

}  // namespace gripline::dsp
