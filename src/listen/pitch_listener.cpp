#include "listen/pitch_listener.h"

namespace gripline {

bool PitchListener::take(dsp::PitchReading& reading) noexcept {
    while (!estimator_.take(reading)) {
        const std::size_t got = source_->read(hop_);
        if (got == 0) return false;
        estimator_.process({hop_.data(), got});
    }
    return true;
}

}  // namespace gripline
