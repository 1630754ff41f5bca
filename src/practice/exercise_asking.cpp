#include "practice/exercise_asking.h"

#include <algorithm>
#include <utility>

namespace gripline {
namespace {

/// From which side step `i` of `count` is asked: 1 upwards, -1 downwards.
int motion_to(std::size_t i, std::size_t count, StepOrder order) {
    if (i == 0) return -1;
    if (i + 1 == count) return 1;
    if (order == StepOrder::shuffled) return i % 2 == 0 ? -1 : 1;
    return order == StepOrder::up ? 1 : -1;
}

}  // namespace

Result<Exercise> asked_in_way(Exercise exercise, Asking asking, StepOrder order) {
    const std::size_t count = exercise.steps.size();
    if (asking == Asking::next_step && count < 2) {
        return Error{"the neck holds " + std::to_string(count) + " of the steps, and from one to the next takes two: choose another root, stage or string set"};
    }
    for (std::size_t i = 0; i < count; ++i) {
        Attempt& asked = exercise.steps[i].asked;
        asked.asking = asking;
        if (asking == Asking::next_step) asked.motion = motion_to(i, count, order);
    }
    return exercise;
}

std::optional<PracticeStep> given_for(const Exercise& exercise, const PracticeStep& step) {
    if (step.asked.asking != Asking::next_step || !step.asked.motion) return std::nullopt;
    const auto& steps = exercise.steps;
    const auto here = std::find_if(steps.begin(), steps.end(), [&](const PracticeStep& each) { return each.grip == step.grip; });
    const std::ptrdiff_t beside = here - steps.begin() - *step.asked.motion;
    if (here == steps.end() || beside < 0 || beside >= static_cast<std::ptrdiff_t>(steps.size())) return std::nullopt;
    return steps[static_cast<std::size_t>(beside)];
}

PracticeStep prompt_of(const Exercise& exercise, const PracticeStep& step) { return given_for(exercise, step).value_or(step); }

bool prompt_is_asking(Asking asking) noexcept { return asking == Asking::by_ear || asking == Asking::next_step; }

std::string next_step_words(const PracticeStep& step) { return std::string("the next step ") + (step.asked.motion.value_or(1) > 0 ? "up" : "down"); }

}  // namespace gripline
