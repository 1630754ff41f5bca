#include "listen/ongoing_chain.h"

#include <algorithm>

namespace gripline {

bool OngoingChain::take(dsp::StrumEvidence& evidence) noexcept {
    if (!chain_.take(evidence)) return false;
    strums_ = std::max(strums_, evidence.strum);
    evidence.strum += strums_before_;
    evidence.onset_s += start_s_;
    evidence.heard_s += start_s_;
    return true;
}

void OngoingChain::begin_anew() noexcept {
    start_s_ += chain_.stream_s();
    strums_before_ += strums_;
    strums_ = 0;
    chain_.reset();
}

}  // namespace gripline
