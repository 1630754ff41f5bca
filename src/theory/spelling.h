// Notes as they are written: a letter and an accidental. "B#3" is MIDI 60: the octave counts from the letter's own C.
#pragma once

#include <compare>
#include <string>
#include <string_view>

#include "base/result.h"
#include "theory/interval.h"
#include "theory/pitch.h"

namespace gripline {

/// How accidentals are shown: "Bb", "F#" or with the signs of Unicode.
enum class Accidentals { ascii, unicode };

/// A letter with an accidental, no octave.
class NoteName {
public:
    constexpr NoteName() = default;  ///< C
    /// letter: 0 = C to 6 = B; accidental: semitones, + is sharp, -2 to 2 in what can be written.
    constexpr NoteName(int letter, int accidental) : letter_(((letter % 7) + 7) % 7), accidental_(accidental) {}
    /// Reads "C", "Bb", "F#", "Ebb", "Fx", "F##" and the same with the Unicode signs. The letter is a capital A to G.
    static Result<NoteName> parse(std::string_view text);
    [[nodiscard]] constexpr int letter() const noexcept { return letter_; }
    [[nodiscard]] constexpr int accidental() const noexcept { return accidental_; }
    [[nodiscard]] PitchClass pitch_class() const noexcept;
    [[nodiscard]] std::string text(Accidentals signs = Accidentals::ascii) const;
    /// The note an interval above, in exact spelling: Db up a minor sixth is Bbb.
    [[nodiscard]] NoteName up(Interval interval) const noexcept;
    /// The same sound without double accidentals: Bbb becomes A, Fx becomes G (common practice on grip sheets, no source).
    [[nodiscard]] NoteName readable() const noexcept;
    /// The same sound as a root that players use: also without Cb, Fb, E# and B# (common practice, no source).
    [[nodiscard]] NoteName as_root() const noexcept;
    friend constexpr auto operator<=>(NoteName, NoteName) = default;

private:
    int letter_ = 0;
    int accidental_ = 0;
};

/// A written note with its octave.
struct SpelledNote {
    NoteName name;
    int octave = 4;  ///< of the letter: B#3 and C4 sound alike

    /// Reads "Bb3", "C4", "B#3"; the note must lie within MIDI 0 to 127.
    static Result<SpelledNote> parse(std::string_view text);
    [[nodiscard]] MidiNote midi() const noexcept;
    [[nodiscard]] std::string text(Accidentals signs = Accidentals::ascii) const;
    friend constexpr auto operator<=>(const SpelledNote&, const SpelledNote&) = default;
};

/// `note` written as `name`, which must be of the same pitch class: MIDI 60 as B# is B#3.
[[nodiscard]] SpelledNote spelled(MidiNote note, NoteName name) noexcept;

/// The usual root of a pitch class: C Db D Eb E F Gb G Ab A Bb B.
[[nodiscard]] NoteName usual_root(PitchClass pitch_class) noexcept;

/// Where an approach comes from.
enum class From { below, above };

/// The note a semitone below or above `target`: from above spelled flat, from below sharp, and a white key by its plain name.
/// Into F: E from below, Gb from above; into G: F# and Ab.
[[nodiscard]] NoteName approach_to(NoteName target, From from) noexcept;

}  // namespace gripline
