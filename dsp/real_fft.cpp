#include "dsp/real_fft.h"

#include <kissfft/kiss_fftr.h>

namespace gripline::dsp {

static_assert(sizeof(kiss_fft_cpx) == sizeof(std::complex<float>), "KissFFT must be built for float");

struct RealFft::Plan {
    kiss_fftr_cfg config = nullptr;
    explicit Plan(std::size_t size) : config(kiss_fftr_alloc(static_cast<int>(size), 0, nullptr, nullptr)) {}
    ~Plan() { kiss_fftr_free(config); }
    Plan(const Plan&) = delete;
    Plan& operator=(const Plan&) = delete;
};

RealFft::RealFft(std::size_t size) : size_(size), plan_(std::make_unique<Plan>(size)) {}
RealFft::~RealFft() = default;
RealFft::RealFft(RealFft&&) noexcept = default;
RealFft& RealFft::operator=(RealFft&&) noexcept = default;

void RealFft::forward(std::span<const float> frames, std::span<std::complex<float>> bins_out) noexcept {
    kiss_fftr(plan_->config, frames.data(), reinterpret_cast<kiss_fft_cpx*>(bins_out.data()));
}

}  // namespace gripline::dsp
