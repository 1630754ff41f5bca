// The dsp chain with times and strum numbers that go on when the chain has to begin anew.
#pragma once

#include <cstdint>
#include <span>

#include "dsp/strum_chain.h"

namespace gripline {

/// Frames between two looks at the chain: 5.3 ms at 48 kHz.
inline constexpr std::size_t kHopFrames = 256;

/// Live and recorded sound go through this alike. Allocates in the constructor only.
class OngoingChain {
public:
    /// start_s: stream time of the first frame that will come.
    explicit OngoingChain(int rate_hz, double start_s = 0.0) : chain_({.rate_hz = rate_hz}), start_s_(start_s) {}

    void process(std::span<const float> frames) noexcept { chain_.process(frames); }
    void leave_out_clicks(bool leave_out) noexcept { chain_.leave_out_clicks(leave_out); }
    void finish() noexcept { chain_.finish(); }
    /// Takes the oldest evidence, its times and strum number counted on; false when there is none.
    bool take(dsp::StrumEvidence& evidence) noexcept;
    /// The sound broke off: what comes next has nothing to do with what came before. Take all evidence first.
    void begin_anew() noexcept;

    [[nodiscard]] double stream_s() const noexcept { return start_s_ + chain_.stream_s(); }
    [[nodiscard]] double level_db() const noexcept { return chain_.level_db(); }
    [[nodiscard]] double hum_db() const noexcept { return chain_.hum_db(); }

private:
    dsp::StrumChain chain_;
    double start_s_;
    std::uint64_t strums_before_ = 0, strums_ = 0;
};

}  // namespace gripline
