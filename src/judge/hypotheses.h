// Everything that may have been played when a grip was asked: the grip itself and its likely faults.
#pragma once

#include <array>
#include <optional>
#include <span>
#include <vector>

#include "judge/verdict.h"

namespace gripline {

/// A set of sounding notes as MIDI numbers, low to high, without doubles. At most 8.
class NoteSet {
public:
    void insert(int midi);
    void erase(int midi);
    [[nodiscard]] bool contains(int midi) const noexcept;
    [[nodiscard]] std::span<const int> notes() const noexcept { return {notes_.data(), static_cast<std::size_t>(count_)}; }
    [[nodiscard]] int size() const noexcept { return count_; }
    [[nodiscard]] int lowest() const noexcept { return notes_[0]; }
    /// Bit i is set when pitch class i sounds.
    [[nodiscard]] unsigned pitch_classes() const noexcept;
    /// Same pitch classes and same bass pitch class: the rule of "right".
    [[nodiscard]] bool sounds_like(const NoteSet& other) const noexcept;
    friend bool operator==(const NoteSet& a, const NoteSet& b) noexcept;

private:
    std::array<int, 8> notes_{};
    int count_ = 0;
};

/// Whether all partials of `midi` lie on those of one of `notes`: on its third, fifth or sixth. Such a note can't be told from that note alone.
[[nodiscard]] bool hides_behind(int midi, const NoteSet& notes) noexcept;

/// One thing that may have been played.
struct Hypothesis {
    std::optional<FaultKind> fault;  ///< nullopt: the grip as asked
    bool right = false;              ///< counts as right: the grip as asked, or a fault that changes neither pitch classes nor bass, nor a single note's octave
    int string = 0;                  ///< of wrong_note, missing_note, extra_note; else 0
    int frets = 0;                   ///< of wrong_note, shifted; else 0
    NoteSet notes;                   ///< empty for `nothing`
};

/// The grip as asked first; then a string one to three frets off, a single note an octave off, a string missing, an open string added
/// (but for one whose partials all lie on an asked note's: a right grip would be blamed for it), the grip shifted by one to three
/// frets, the same pitch classes over another bass within eleven frets; `nothing` last.
[[nodiscard]] std::vector<Hypothesis> hypotheses_for(const Grip& grip, const Tuning& tuning, int capo);

}  // namespace gripline
