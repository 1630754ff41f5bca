// Any rate to the analysis rate, by a windowed sinc.
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace gripline::dsp {

struct ResamplerConfig {
    int from_hz = 48000;     ///< 8000 to 192000
    int to_hz = 12000;
    double pass_hz = 4300.0; ///< flat up to here (or to 0.45 of the lower rate)
};

/// Streaming resampler. Output sample k stands at time k / to_hz of the input; the filter's delay is taken out.
class Resampler {
public:
    explicit Resampler(const ResamplerConfig& config);
    /// Takes one input frame; writes the output frames that it completes (at most max_out()) and returns their number.
    std::size_t push(float frame, std::span<float> out) noexcept;
    [[nodiscard]] std::size_t max_out() const noexcept { return max_out_; }
    /// Frames of input that must follow an instant before its output is complete.
    [[nodiscard]] std::size_t delay_frames() const noexcept { return half_; }
    void reset() noexcept;

private:
    std::size_t half_;                ///< taps on each side
    std::size_t max_out_;
    double step_;                     ///< input frames per output frame
    std::vector<float> table_;        ///< (kPhases + 1) rows of 2 * half_ taps
    std::vector<float> line_;         ///< the last 2 * half_ frames, written twice for contiguous reads
    std::size_t at_ = 0;
    std::uint64_t taken_ = 0;         ///< input frames so far
    std::uint64_t made_ = 0;          ///< output frames so far
};

}  // namespace gripline::dsp
