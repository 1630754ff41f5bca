// What the judge knows of the guitar that it listens to, from its set-up, and where it expects notes because of it.
#pragma once

#include <vector>

#include "dsp/note_bank.h"
#include "judge/verdict.h"

namespace gripline {

/// A string's open and fretted note. Cents are against A4 = 440 Hz.
struct KnownString {
    dsp::ExpectedNote open, fretted;
};

struct KnownGuitar {
    Tuning tuning;
    int capo = 0;
    int fret = 7;                      ///< of the fretted notes, from the capo
    std::vector<KnownString> strings;  ///< lowest first, as many as the tuning has

    /// All notes' median: the whole guitar at its set-up.
    [[nodiscard]] double whole_cents() const;
    /// A string at a fret (from the capo, 0 or more): between the open and the fretted note on a straight line, beyond a little further along it. Cents are against the whole guitar.
    [[nodiscard]] dsp::ExpectedNote expected(std::size_t string_from_lowest, int at_fret) const;
};

/// Where each note would lie when this target is asked: on the string on which it is likeliest. A target on another tuning than the guitar's, or in any
/// voicing: nothing is expected.
[[nodiscard]] dsp::ExpectedNotes expected_notes(const KnownGuitar& guitar, const Target& target);

}  // namespace gripline
