// What the player chose to practise, and how a key changes it.
#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "fretboard/neck.h"
#include "fretboard/stage.h"
#include "practice/exercise.h"

namespace gripline {

/// A root, a family, a stage and a string set, and the order of the steps.
struct Course {
    NoteName root;
    Family family = Family::dominant_seventh;
    StageKind stage = StageKind::shell;
    StringSet strings{{StringNumber(6), StringNumber(4), StringNumber(3)}};
    StepOrder order = StepOrder::up;
};

/// The course a semitone higher or lower; the root as players spell it.
[[nodiscard]] Course root_moved(const Course& course, int semitones);
/// The next family, round and round.
[[nodiscard]] Course next_family(const Course& course);
/// The next stage, on its usual string set.
[[nodiscard]] Course next_stage(const Course& course, int strings);
/// The next string set that the stage lies on.
[[nodiscard]] Course next_string_set(const Course& course, int strings);
[[nodiscard]] Course next_order(const Course& course);

/// The exercise's steps from the lowest bass up, and what the neck can't hold. An error when it can hold none, or the string set
/// does not fit the stage.
[[nodiscard]] Result<Exercise> make_exercise(const Course& course, const Neck& neck, double a4_hz = 440.0);

/// The course in each of the four families and each of the twelve keys, family by family, from C up.
[[nodiscard]] std::vector<Course> in_every_key(const Course& course);

}  // namespace gripline
