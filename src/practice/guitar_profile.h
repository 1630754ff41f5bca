// One guitar on one input as its set-up found it. Pure: numbers in, words out.
#pragma once

#include <string>
#include <vector>

#include "dsp/guitar_voice.h"
#include "fretboard/grip.h"
#include "judge/known_guitar.h"

namespace gripline {

/// A string's two notes.
struct ProfileString {
    StringNumber string{6};
    dsp::NoteVoice open, fretted;
};

struct GuitarProfile {
    std::string name;      ///< the player's own word for it
    std::string input;     ///< of the sound card
    std::string made_on;   ///< "2026-11-25"
    Tuning tuning;
    int capo = 0;
    double a4_hz = 440.0;
    int fret = 7;             ///< that was held down
    double noise_db = -120.0; ///< RMS with all strings damped, dB below full scale
    double level_db = -120.0; ///< of the twelve notes' peak RMS the median, dB below full scale
    std::vector<ProfileString> strings;  ///< lowest first

    /// All notes, low to high on each string.
    [[nodiscard]] std::vector<dsp::NoteVoice> notes() const;
    /// The string's open note against its target at a4_hz, cents; + is sharp.
    [[nodiscard]] double open_cents(const ProfileString& string) const;
    /// How much sharper the fretted note is than the open one says.
    [[nodiscard]] static double fretted_cents(const ProfileString& string) { return string.fretted.cents - string.open.cents; }
};

/// What the judge wants to know of it.
[[nodiscard]] KnownGuitar known_guitar(const GuitarProfile& profile);

/// The fret that a set-up asks for: in the middle of the neck, and on no string a note that an open string has.
[[nodiscard]] int set_up_fret(const Tuning& tuning);

/// What the player may do about it: tuning, intonation, level, noise; a sentence each, what matters most first. Empty: all is well.
[[nodiscard]] std::vector<std::string> advice(const GuitarProfile& profile);

}  // namespace gripline
