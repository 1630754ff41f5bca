// The judge: weighs what was asked against the other things that may have been played, evidence by evidence,
// and settles as soon as it is safe.
#pragma once

#include <array>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "dsp/strum_evidence.h"
#include "judge/known_guitar.h"
#include "judge/verdict.h"

namespace gripline {

struct JudgeConfig {
    /// Chance from which a settled strum is called right. A right grip called wrong weighs half as much again as a fault let through, so the
    /// line is at 1 / (1 + 1.5).
    double right_from = 0.4;
    double settle_after_s = 0.12;  ///< no verdict on less sound, but at the last evidence
    double missing_after_s = 0.2;  ///< no outer string is called missing on less: a hand may be that slow
    /// When a verdict is safe before the last evidence.
    struct Bounds {
        double from_s = 0.0;  ///< sound since the first string
        double wrong = 0.0;   ///< settle when the chance is at most this ...
        double right = 1.0;   ///< ... or at least this
    };
    /// A sequential test's bounds (Wald 1947, Sequential Analysis), first the width that calibrated chances ask for, closing in towards 0.21 s so that 95 verdicts in 100 are there
    /// by then; the few that are still doubtful may as well hear what a body's resonance loses and a string keeps, up to 0.36 s. Chosen on strums of our own (DEVELOPERS.md, hearing).
    std::array<Bounds, 5> settle{{{0.0, 0.01, 0.99}, {0.145, 0.02, 0.98}, {0.175, 0.05, 0.97}, {0.2, 0.15, 0.85}, {0.25, 0.03, 0.97}}};
    std::shared_ptr<const KnownGuitar> guitar{};  ///< from its set-up; nullptr: nothing is known of it
};

/// A hypothesis and its chance, for `explain`.
struct Weighed {
    std::optional<FaultKind> fault;  ///< nullopt: as asked
    int string = 0;
    int frets = 0;
    std::vector<MidiNote> notes;
    double chance = 0.0;
    double unexplained = 0.0;        ///< share of the sound that the notes don't explain, or predict in vain
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
    [[nodiscard]] Verdict verdict_now(const dsp::StrumEvidence& evidence);
    /// The hypotheses behind the last verdict, likeliest first, at most `most`.
    [[nodiscard]] std::vector<Weighed> leading(std::size_t most) const;

private:
    struct Inside;
    std::unique_ptr<Inside> inside_;
};

/// What was played, with nothing asked: the notes heard, low to high, bass, strengths. Kind is `unheard` when no note was found.
[[nodiscard]] Verdict transcribe(const dsp::StrumEvidence& evidence, double a4_hz = 440.0);

}  // namespace gripline
