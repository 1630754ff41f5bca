// What was asked and what the judge says about it.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "fretboard/grip.h"
#include "theory/pitch.h"

namespace gripline {

/// What the player was asked to strum: a grip on strings, or (when `grip` is empty) pitch classes in any voicing.
struct Target {
    std::optional<Grip> grip;
    Tuning tuning;
    int capo = 0;
    double a4_hz = 440.0;
    std::vector<PitchClass> chord;    ///< any voicing of these; read only when `grip` is empty
    std::optional<PitchClass> bass;   ///< with `chord`: the bass asked for, or any
};

enum class VerdictKind { right, wrong, unheard };
enum class FaultKind { wrong_note, missing_note, extra_note, wrong_bass, shifted, nothing };

/// One way in which the sound differed from what was asked.
struct Fault {
    FaultKind kind = FaultKind::nothing;
    std::optional<StringNumber> string;  ///< wrong_note, missing_note; extra_note when a string explains it
    int frets = 0;                       ///< wrong_note, shifted: + is sharp
    std::optional<MidiNote> asked;       ///< wrong_note, missing_note: the note asked; wrong_bass: the lowest note asked
    std::optional<MidiNote> heard;       ///< wrong_note, extra_note: the note heard instead; wrong_bass: the lowest heard
    double probability = 0.0;            ///< chance, 0 to 1, that this is what happened
};

/// A settled answer to one strum.
struct Verdict {
    VerdictKind kind = VerdictKind::unheard;
    double confidence = 0.0;           ///< chance, 0 to 1, that the target was played right; calibrated
    double onset_s = 0.0;              ///< stream time at which the first string sounded
    double decided_s = 0.0;            ///< stream time up to which sound was used
    std::vector<MidiNote> heard;       ///< low to high
    std::optional<PitchClass> bass;    ///< of what was heard
    double tuning_cents = 0.0;         ///< of the whole guitar against a4_hz; + is sharp
    double level_db = 0.0;             ///< of the strum, dB below full scale
    std::array<float, 12> strengths{}; ///< share of each pitch class, index 0 = C, summing to 1 (or all 0)
    std::vector<Fault> faults;         ///< likeliest first; empty when right
};

/// The words of commands: "right", "wrong", "unheard".
[[nodiscard]] const char* word(VerdictKind kind);
/// "wrong_note", "missing_note", "extra_note", "wrong_bass", "shifted", "nothing".
[[nodiscard]] const char* word(FaultKind kind);

}  // namespace gripline
