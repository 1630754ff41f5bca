// Fourier transform of real frames; the one place that sees KissFFT.
#pragma once

#include <complex>
#include <cstddef>
#include <memory>
#include <span>

namespace gripline::dsp {

/// Real transform of one even size, 4 or more, with factors 2, 3 and 5 only (others would make KissFFT allocate at run time, and so would size 2).
class RealFft {
public:
    explicit RealFft(std::size_t size);
    ~RealFft();
    RealFft(RealFft&&) noexcept;
    RealFft& operator=(RealFft&&) noexcept;
    [[nodiscard]] std::size_t size() const noexcept { return size_; }
    [[nodiscard]] std::size_t bins() const noexcept { return size_ / 2 + 1; }
    /// `frames`: size() samples; `bins_out`: bins() values, unscaled. The two must not overlap.
    void forward(std::span<const float> frames, std::span<std::complex<float>> bins_out) noexcept;

private:
    struct Plan;
    std::size_t size_;
    std::unique_ptr<Plan> plan_;
};

}  // namespace gripline::dsp
