// Transcription on a known guitar: where the notes that were heard lie on its neck, and what is heard with that in mind.
#pragma once

#include <vector>

#include "judge/known_guitar.h"
#include "judge/sounding.h"

namespace gripline {

/// Every grip that sounds these notes (low to high) on this tuning, a lower note on a lower string, within four frets but for open strings.
/// At most 64; none when the notes can't be held.
[[nodiscard]] std::vector<Grip> fingerings_of(const std::vector<MidiNote>& notes, const Tuning& tuning, int capo);

/// As transcribe(), on a guitar that is known: the notes heard at first, all or all but one, held in each way that a hand could, tell where its strings have them; it
/// listens again with that in mind. Of the answers that can be held, the one that explains the sound best with few notes; the first one unless another is clearly better.
[[nodiscard]] Verdict transcribe_on(const KnownGuitar& guitar, const dsp::StrumEvidence& evidence, double a4_hz, dsp::NoteBank& bank);

}  // namespace gripline
