// How far the whole guitar is from equal temperament on A4 = 440 Hz.
#pragma once

#include "dsp/strum_evidence.h"

namespace gripline::dsp {

/// A sum of votes on the circle of one semitone; adds up over strums and forgets slowly.
struct TuningVotes {
    double cos_sum = 0.0;
    double sin_sum = 0.0;
    void add(const TuningVotes& other, double weight) noexcept {
        cos_sum += weight * other.cos_sum;
        sin_sum += weight * other.sin_sum;
    }
    [[nodiscard]] bool empty() const noexcept { return cos_sum == 0.0 && sin_sum == 0.0; }
    /// -50 to 50, + is sharp; 0 when nothing was heard.
    [[nodiscard]] double cents() const noexcept;
};

/// Votes of the peaks of one magnitude spectrum (100 Hz to 1.4 kHz): each votes for its own deviation from the nearest semitone, by the root of its
/// magnitude. Partials 1, 2 and 4 stand on the note's own pitch class, the third two cents off; higher ones err more and are weaker.
[[nodiscard]] TuningVotes tuning_votes(const Spectrum& spectrum) noexcept;

}  // namespace gripline::dsp
