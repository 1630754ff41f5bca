// What the tool plays to ask by ear: the key by a cadence, then the step, at once, bass first or note by note. No sound here.
#pragma once

#include <vector>

#include "practice/exercise.h"

namespace gripline {

/// A grip of a row that is sounded, each after the one before.
struct SoundedStep {
    PracticeStep step;
    double length_s = 0.0;
};

enum class PromptStyle { together, bass_first, note_by_note };

/// The step alone: at once; its bass before it; or its notes from the lowest up before it.
[[nodiscard]] std::vector<SoundedStep> prompt_sounds(const PracticeStep& step, PromptStyle style);

/// The key of the step's scale by an authentic cadence: the dominant seventh on the fifth, then the scale's own chord, as shells with the root in the bass where the
/// neck holds it. Empty when the neck holds no shells on strings 6-4-3.
[[nodiscard]] std::vector<SoundedStep> key_cadence(const PracticeStep& step);

/// From the first sound to the end of the last, seconds.
[[nodiscard]] double length_s(const std::vector<SoundedStep>& row);

}  // namespace gripline
