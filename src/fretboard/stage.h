// A stage: the steps of a harmonised sixth-diminished scale as grips on one string set. This is what the screen asks and `grips` prints.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "fretboard/neck.h"
#include "fretboard/string_set.h"
#include "theory/family.h"

namespace gripline {

/// One step, in the order of the scale from its root up.
struct Step {
    Interval degree;                 ///< of the leading note above the scale's root: "b6"
    Role role = Role::chord;
    std::string chord;               ///< "C7", "Bdim7"
    int inversion = 0;               ///< of the leading note: 0 root, 1 third, 2 fifth, 3 sixth or seventh of `chord`
    NoteName lead;                   ///< the scale note: the bass in drop 3 and shell, the melody in scale and drop 2
    std::optional<Grip> grip;        ///< at its usual place, or nullopt when the neck cannot hold it: see `left_out`
    std::vector<SpelledNote> notes;  ///< of `grip`, lowest string first; empty without a grip
    std::vector<Grip> places;        ///< every octave where the neck holds the step, lowest first; `grip` is one of them
    std::string remark;              ///< why `grip` lies an octave off the row, or empty: "an octave higher: string 4 would lie at fret -2, ..."
    std::string left_out;            ///< why there is no grip, or empty

    /// The lowest written note of the grip. Only with a grip.
    [[nodiscard]] const SpelledNote& bass() const { return notes.front(); }
};

/// All steps of one root, family, kind and string set.
struct Stage {
    NoteName root;
    Family family = Family::major_sixth;
    StageKind kind = StageKind::shell;
    StringSet strings{{}};
    std::vector<Step> steps;  ///< eight; four for the diminished chord by itself

    /// "C dominant seventh, shell on strings 6-4-3".
    [[nodiscard]] std::string title() const;
};

/// Builds the stage. Each grip lies at the lowest place where the neck holds all of it; the notes of a scale stage rise from the lowest
/// root instead, and a note past the neck's end goes down an octave with a remark. What the neck cannot hold stays in the list without
/// a grip and with the reason. An error when the string set does not fit the stage or the tuning, or the neck's values are out of range.
[[nodiscard]] Result<Stage> build_stage(NoteName root, Family family, StageKind kind, const StringSet& strings, const Neck& neck = {});

/// The grip slid a semitone into its target: one fret lower (`below`) or higher (`above`) than `target`. An error when it leaves the neck.
[[nodiscard]] Result<Grip> approach_grip(const Grip& target, From from, const Neck& neck = {});

}  // namespace gripline
