// An exercise asked in one way or another: what stays hidden, what is given in its place, and from which step to which.
#pragma once

#include <string>

#include "base/result.h"
#include "practice/exercise.h"

namespace gripline {

/// The exercise, each step asked in that way. For Asking::next_step each step is asked from the one beside it in the direction of the order: from
/// below upwards, from above downwards, shuffled in turn from below and from above; the step at the end of the neck from its only neighbour.
/// Attempt::motion says which. An error when there are fewer than two steps then.
[[nodiscard]] Result<Exercise> asked_in_way(Exercise exercise, Asking asking, StepOrder order);

/// What the step is asked from: its neighbour when it is asked as the next step, the target when it is asked into the target; else nullptr.
[[nodiscard]] const PracticeStep* given_for(const PracticeStep& step) noexcept;

/// What the tool sounds to ask the step: the one given where there is one, else the step itself.
[[nodiscard]] const PracticeStep& prompt_of(const PracticeStep& step) noexcept;

/// Sounding prompt_of() tells no more than the way of asking tells anyway: the attempt does not count as helped.
[[nodiscard]] bool prompt_is_asking(Asking asking) noexcept;

/// "the next step up", "the next step down".
[[nodiscard]] std::string next_step_words(const PracticeStep& step);

}  // namespace gripline
