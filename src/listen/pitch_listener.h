// Reads a source for the tuner: frames in, pitch readings out.
#pragma once

#include <array>
#include <memory>
#include <utility>

#include "audio/sound_source.h"
#include "dsp/pitch.h"

namespace gripline {

/// Works on the caller's thread (a reading costs a fraction of a millisecond); call take() at least ten times a second, so that a live source's ring
/// does not overflow. Allocates in the constructor only.
class PitchListener {
public:
    explicit PitchListener(std::unique_ptr<SoundSource> source) : source_(std::move(source)), estimator_({.rate_hz = source_->rate_hz()}) {}

    /// Reads what the source has ready until a reading is there; false when it has no more for now.
    bool take(dsp::PitchReading& reading) noexcept;
    /// No reading will come any more: a recording has ended.
    [[nodiscard]] bool ended() const noexcept { return source_->state() == SourceState::ended; }
    /// Hands the source on, to be listened to otherwise. Afterwards only destroy the listener.
    [[nodiscard]] std::unique_ptr<SoundSource> give_source() { return std::move(source_); }
    [[nodiscard]] const SoundSource& source() const noexcept { return *source_; }

private:
    std::unique_ptr<SoundSource> source_;
    dsp::PitchEstimator estimator_;
    std::array<float, 256> hop_{};
};

}  // namespace gripline
