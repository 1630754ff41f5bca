// Is the whole guitar fit to practise on? Told from the tuning found in the last strums. Pure: cents in, an answer out.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>

#include "dsp/strum_evidence.h"

namespace gripline {

/// Strums whose tuning lies further apart do not agree. Measured 2026-11-25: on 343 single strums rendered from recorded guitars the tuning of
/// the strum alone lay within 8.7 cents of the truth in 95 of 100; on 30 walks 385 of 394 runs of three strums agreed.
inline constexpr double kStrumsAgree_cents = 8.0;

/// Knows the guitar as a whole; a single string that is out is found in the tuner.
class GuitarTuning {
public:
    /// What one more strum said: cents against concert pitch, known only up to whole semitones, -50 to 50. NaN and infinities are left out.
    void take(double cents) noexcept;
    /// How far the guitar is out, + is sharp, -50 to 50: the median of the last three strums, when they agree and both it and the last strum are
    /// more than kTooFarOut_cents out. nullopt: fit to practise, or not known.
    [[nodiscard]] std::optional<double> too_far_out_cents() const noexcept;
    void forget() noexcept { count_ = 0; }

private:
    static constexpr std::size_t kStrums = 3;
    std::array<double, kStrums> last_{};
    std::size_t count_ = 0;
};

/// The tuning of this strum alone against A4 = 440 Hz, -50 to 50; nothing when it has no peak to tell it. The evidence's own `tuning_cents`
/// remembers older strums, which steadies it, and misleads while the guitar is being put in tune.
[[nodiscard]] std::optional<double> strum_tuning_cents(const dsp::StrumEvidence& evidence) noexcept;
/// The same against another concert pitch.
[[nodiscard]] double against_concert_pitch(double cents, double a4_hz) noexcept;

/// "The guitar is 43 cents flat: tune before going on"
[[nodiscard]] std::string out_of_tune_words(double cents);

}  // namespace gripline
