// What the judge knows of the guitar that it listens to, from its set-up, and what it expects of a note because of it.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "dsp/note_bank.h"
#include "judge/verdict.h"

namespace gripline {

struct KnownString {
    dsp::NoteVoice open, fretted;
};

struct KnownGuitar {
    Tuning tuning;
    int fret = 7;                      ///< of the fretted notes
    std::vector<KnownString> strings;  ///< lowest first, as many as the tuning has

    /// All notes' median, cents against A4 = 440 Hz: the whole guitar at its set-up.
    [[nodiscard]] double whole_cents() const;
    /// A string at a fret: between the open and the fretted note on a straight line, beyond a little further along it. Cents are against the whole guitar.
    [[nodiscard]] dsp::NoteVoice expected(std::size_t string_from_lowest, int fret) const;
};

/// What each note would look like when this target is asked: on the string on which it is likeliest.
class ExpectedNotes {
public:
    /// A target on another tuning than the guitar's, or in any voicing: nothing is expected.
    ExpectedNotes(const KnownGuitar& guitar, const Target& target);
    /// nullptr: unknown.
    [[nodiscard]] const dsp::NoteVoice* of(int midi) const noexcept;

private:
    std::array<std::optional<dsp::NoteVoice>, dsp::NoteBank::kHighest - dsp::NoteBank::kLowest + 1> notes_;
};

}  // namespace gripline
