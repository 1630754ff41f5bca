// How a chord's own notes are written: A6 has C#, not Db.
#pragma once

#include "theory/chord_symbol.h"

namespace gripline {

/// A note as the chord writes it: by its degree where the chord holds it (or by the slash bass), else by the commonest degree of that size above the root. Without
/// double accidentals.
[[nodiscard]] NoteName name_in(const ChordSymbol& chord, PitchClass note);

/// The root of the chord a semitone below or above `target` that leads into it: as approach_to(), but Eb7 or Bb7 rather than D#7 or A#7 (common practice, no source).
[[nodiscard]] NoteName approach_root(NoteName target, From from) noexcept;

}  // namespace gripline
