// How a guitar's single notes look in the judge's own window, and what lies between its strings and the sound card.
#pragma once

#include <array>
#include <cstddef>
#include <span>

#include "dsp/strum_evidence.h"

namespace gripline::dsp {

inline constexpr int kVoicePartials = 12;
inline constexpr float kNoPartial_db = -60.0F;  ///< a partial that does not stand out of the noise, or lies beyond the spectrum

/// One plucked note.
struct NoteVoice {
    int midi = 0;                  ///< the note that was asked
    double cents = 0.0;            ///< against A4 = 440 Hz in equal temperament; + is sharp
    double stiffness = 8e-5;       ///< B in n f0 sqrt(1 + B n^2) (Fletcher 1964); 0 to 1e-3
    std::array<float, kVoicePartials> partial_db{};  ///< partial 1, 2, ... against all of them together; kNoPartial_db to 0

    /// Partial n (from 1).
    [[nodiscard]] double partial_hz(int n) const noexcept;
};

/// The partials of a note whose first partial lies at first_hz, read from the spectrum of its body. No partial stands out: all are kNoPartial_db.
[[nodiscard]] NoteVoice measure_note(const Spectrum& body, int midi, double first_hz, double stiffness) noexcept;

/// How fast the partials fall, dB an octave (negative: they do), by least squares over those that are there; 0 with fewer than three.
[[nodiscard]] double tilt_db_per_octave(const NoteVoice& note) noexcept;

/// What lies between strings and sound card (pick-up, body, room, microphone), dB over frequency against the average of the guitars in voice_reference.cpp.
/// Between the bands a straight line over log frequency; level beyond them.
inline constexpr int kResponseBands = 18;
inline constexpr double kLowestBand_hz = 80.0, kBandsAnOctave = 3.0;  // 80 Hz to 4.06 kHz
inline constexpr float kMostResponse_db = 12.0F;
struct ResponseCurve {
    std::array<float, kResponseBands> gain_db{};  ///< -kMostResponse_db to kMostResponse_db, their mean 0
    [[nodiscard]] static double band_hz(int band) noexcept;
    [[nodiscard]] float at_db(double hz) const noexcept;
};

/// The curve that makes these notes' partials out of the reference's, each note's own level left aside. Bands without a partial near them stay near 0.
[[nodiscard]] ResponseCurve response_of(std::span<const NoteVoice> notes) noexcept;

/// Partials of the average guitar's open strings and seventh frets, read as measure_note() reads them. From tests/bench/training (README).
inline constexpr std::size_t kReferenceNotes = 12;
struct ReferenceNote {
    int midi;
    std::array<float, kVoicePartials> partial_db;
};
extern const std::array<ReferenceNote, kReferenceNotes> kVoiceReference;  ///< low to high

}  // namespace gripline::dsp
