// The numbers by which hypotheses are weighed: fits against the sound, and what the notes' own partials say.
#pragma once

#include <array>
#include <span>
#include <vector>

#include "dsp/note_bank.h"
#include "judge/hypotheses.h"

namespace gripline {

inline constexpr int kMargins = 8;   ///< of a hypothesis against the asked grip
inline constexpr int kCommon = 14;   ///< of the sound and the asked grip, the same for all hypotheses
inline constexpr int kKinds = 7;     ///< asked, then the six kinds of fault

/// One hypothesis as numbers.
struct WeighedHypothesis {
    int index = 0;                        ///< into the list of hypotheses
    int kind = 0;                         ///< 0 asked, 1 + FaultKind otherwise
    float error = 0.0F;                   ///< share of the sound that its notes leave unexplained or predict in vain
    std::array<float, kMargins> margins{};
    std::vector<int> added, removed;      ///< rows of `notes`: what sounds more, what less than asked
};

struct Weighing {
    std::array<float, kCommon> common{};
    std::vector<dsp::NoteFeatures> notes;
    std::vector<WeighedHypothesis> hypotheses;  ///< asked first, nothing last; of other basses the best four by fit
};

/// Fits every hypothesis to the evidence. `bank` is scratch space. Takes about a millisecond. `expected`: of a known guitar; nullptr: nothing is known of it.
void weigh(const dsp::StrumEvidence& evidence, std::span<const Hypothesis> hypotheses, double offset_cents, dsp::NoteBank& bank, Weighing& out, const dsp::ExpectedNotes* expected = nullptr);

}  // namespace gripline
