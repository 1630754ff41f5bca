#include "practice/exercise_asking.h"

#include <memory>
#include <utility>
#include <vector>

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
    const std::vector<PracticeStep> plain = asking == Asking::next_step ? exercise.steps : std::vector<PracticeStep>{};
    for (std::size_t i = 0; i < count; ++i) {
        PracticeStep& step = exercise.steps[i];
        step.asked.asking = asking;
        if (asking != Asking::next_step) continue;
        const int motion = motion_to(i, count, order);
        step.asked.motion = motion;
        step.given = std::make_shared<const PracticeStep>(plain[motion > 0 ? i - 1 : i + 1]);
    }
    return exercise;
}

const PracticeStep* given_for(const PracticeStep& step) noexcept {
    return step.asked.asking == Asking::next_step || step.asked.asking == Asking::into_target ? step.given.get() : nullptr;
}

const PracticeStep& prompt_of(const PracticeStep& step) noexcept {
    const PracticeStep* given = given_for(step);
    return given == nullptr ? step : *given;
}

bool prompt_is_asking(Asking asking) noexcept { return asking == Asking::by_ear || asking == Asking::next_step || asking == Asking::into_target; }

std::string next_step_words(const PracticeStep& step) { return std::string("the next step ") + (step.asked.motion.value_or(1) > 0 ? "up" : "down"); }

}  // namespace gripline
