// What a known guitar adds to the judge's chances: a small fitted model over what its set-up expects of each note. Coefficients: known_table.cpp,
// made by tests/bench/training.
#pragma once

#include <array>
#include <vector>

#include "judge/model.h"

namespace gripline {

inline constexpr int kKnownHidden = 24;
inline constexpr int kKnownOutputs = 6;
inline constexpr int kKnownHidden2 = 16;
inline constexpr int kKnownNoteInputs = kNoteInputs + dsp::kKnownFeatures;
inline constexpr int kKnownHypothesisInputs = kHypothesisInputs - 2 * kNoteOutputs + 1 + 2 * kKnownOutputs;

struct KnownTable {
    Layer<kKnownNoteInputs, kKnownHidden> note1;
    Layer<kKnownHidden, kKnownOutputs> note2;
    Layer<kKnownHypothesisInputs, kKnownHidden2> hypothesis1;
    Layer<kKnownHidden2, 1> score;
};

}  // namespace gripline
