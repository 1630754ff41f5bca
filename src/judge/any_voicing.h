// A chord in any voicing: the voicing that explains the sound best stands for the grip, and is weighed against its neighbours.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "dsp/note_bank.h"
#include "judge/hypotheses.h"

namespace gripline {

/// The notes of these pitch classes, each class at least once, that explain the bank's sound best. 1 to 6 pitch classes; at most 7 notes.
[[nodiscard]] NoteSet best_voicing(dsp::NoteBank& bank, std::span<const PitchClass> chord);

/// As hypotheses_for, for a chord: the voicing first; then every pitch class one to three semitones off or missing, a foreign pitch class added, the
/// whole chord shifted, a lower note of the chord as another bass; `nothing` last. Right: the pitch classes of `chord` and, when asked, the bass.
/// Strings are unknown: their number is 0.
[[nodiscard]] std::vector<Hypothesis> hypotheses_for(const NoteSet& voicing, std::span<const PitchClass> chord, std::optional<PitchClass> bass, dsp::NoteBank& bank);

}  // namespace gripline
