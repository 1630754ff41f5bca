// Pitch classes and octave-aware notes. Numbers follow MIDI 1.0 (A4 = 69); frequencies ISO 16:1975 (A4 = 440 Hz).
#pragma once

#include <compare>
#include <cstdint>
#include <string>

namespace gripline {

/// One of the twelve pitch classes; 0 = C.
class PitchClass {
public:
    constexpr PitchClass() = default;
    /// Any whole number; taken modulo 12.
    constexpr explicit PitchClass(int semitones_above_c) : value_(static_cast<std::int8_t>(((semitones_above_c % 12) + 12) % 12)) {}
    [[nodiscard]] constexpr int value() const noexcept { return value_; }
    [[nodiscard]] constexpr PitchClass up(int semitones) const noexcept { return PitchClass(value_ + semitones); }
    /// Semitones upwards from this to `other`, 0 to 11.
    [[nodiscard]] constexpr int up_to(PitchClass other) const noexcept { return ((other.value_ - value_) % 12 + 12) % 12; }
    friend constexpr auto operator<=>(PitchClass, PitchClass) = default;

private:
    std::int8_t value_ = 0;
};

/// A note by its MIDI number, 0 to 127; 69 = A4, 40 = E2.
class MidiNote {
public:
    constexpr MidiNote() = default;
    constexpr explicit MidiNote(int number) : number_(static_cast<std::int16_t>(number)) {}
    [[nodiscard]] constexpr int number() const noexcept { return number_; }
    [[nodiscard]] constexpr PitchClass pitch_class() const noexcept { return PitchClass(number_); }
    [[nodiscard]] constexpr int octave() const noexcept { return number_ / 12 - 1; }
    [[nodiscard]] constexpr MidiNote up(int semitones) const noexcept { return MidiNote(number_ + semitones); }
    friend constexpr auto operator<=>(MidiNote, MidiNote) = default;

private:
    std::int16_t number_ = 0;
};

/// Equal-tempered frequency in Hz: a4_hz * 2^((n - 69) / 12).
[[nodiscard]] double frequency_hz(MidiNote note, double a4_hz = 440.0);

/// Name with octave, flats for the black keys: "Bb3", "C4". For a name that fits a key use spelling.h.
[[nodiscard]] std::string plain_name(MidiNote note);
/// Pitch-class name, flats for the black keys: "Bb".
[[nodiscard]] std::string plain_name(PitchClass pitch_class);

}  // namespace gripline
