// What sounds, with nothing asked: shared by the judge and by transcription.
#pragma once

#include "dsp/note_bank.h"
#include "judge/hypotheses.h"
#include "judge/verdict.h"

namespace gripline {

/// The guitar against A4 = 440 Hz in cents, as the note bank wants it: the nearest reading to a4_hz, within 50 cents of it.
[[nodiscard]] double offset_cents(const dsp::StrumEvidence& evidence, double a4_hz);
/// As transcribe(evidence, a4_hz), in a bank that is used again. `expected`: where a known guitar's notes lie; nullptr: nothing is known of it.
[[nodiscard]] Verdict transcribe(const dsp::StrumEvidence& evidence, double a4_hz, dsp::NoteBank& bank, const dsp::ExpectedNotes* expected = nullptr);
/// Fills heard, bass and strengths of `out` for these notes in the bank's sound.
void describe(const NoteSet& notes, dsp::NoteBank& bank, Verdict& out);

}  // namespace gripline
