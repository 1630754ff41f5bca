#include "dsp/strum_chain.h"

namespace gripline::dsp {

struct StrumChain::Inside {
    int rate_hz;
    std::uint64_t frames = 0;
};

StrumChain::StrumChain(const StrumChainConfig& config) : inside_(std::make_unique<Inside>()) { inside_->rate_hz = config.rate_hz; }
StrumChain::~StrumChain() = default;
void StrumChain::process(std::span<const float> frames) noexcept { inside_->frames += frames.size(); }
void StrumChain::finish() noexcept {}
bool StrumChain::take(StrumEvidence&) noexcept { return false; }
void StrumChain::reset() noexcept { inside_->frames = 0; }
double StrumChain::stream_s() const noexcept { return static_cast<double>(inside_->frames) / inside_->rate_hz; }
double StrumChain::level_db() const noexcept { return -120.0; }
double StrumChain::hum_db() const noexcept { return -120.0; }

}  // namespace gripline::dsp
