// The judge: weighs what was asked against the other things that may have been played, evidence by evidence,
// and settles as soon as it is safe.
#pragma once

#include <memory>
#include <optional>

#include "dsp/strum_evidence.h"
#include "judge/verdict.h"

namespace gripline {

struct JudgeConfig {
    double settle_right = 0.0;  ///< reserved: 0 takes the fitted bounds
};

class Judge {
public:
    explicit Judge(const JudgeConfig& config = {});
    ~Judge();
    Judge(Judge&&) noexcept;
    Judge& operator=(Judge&&) noexcept;

    /// Sets what is asked from now on, and forgets the strum in hand. May allocate.
    void ask(const Target& target);
    /// Takes the next evidence of a strum (several come for each, later ones having heard more). Returns the verdict once,
    /// when it is settled; at the last evidence of a strum always. nullopt: more sound is needed, or this strum was settled already.
    std::optional<Verdict> consider(const dsp::StrumEvidence& evidence);
    /// The verdict as it would be if it had to be given now, for the same evidence.
    [[nodiscard]] Verdict verdict_now(const dsp::StrumEvidence& evidence) const;

private:
    struct Inside;
    std::unique_ptr<Inside> inside_;
};

/// What was played, with nothing asked: the notes heard, low to high, bass, strengths. Kind is `unheard` when no note was found.
[[nodiscard]] Verdict transcribe(const dsp::StrumEvidence& evidence, double a4_hz = 440.0);

}  // namespace gripline
