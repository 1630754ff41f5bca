#include "practice/planned_steps.h"

#include <utility>

#include "practice/exercise_asking.h"
#include "practice/into_target.h"

namespace gripline {
namespace {

/// Steps of one scale: each in its own right, its approaches, each from the one beside it, or approach and target together.
Result<std::vector<PracticeStep>> steps_of(const Course& course, const Neck& neck, double a4_hz, Asking asking) {
    std::vector<PracticeStep> steps;
    if (asking != Asking::into_target) {
        auto made = make_exercise(course, neck, a4_hz);
        if (made) made = asked_in_way(std::move(made).value(), asking, StepOrder::shuffled);
        if (!made) return made.error();
        steps = std::move(made->steps);
    }
    if (asking == Asking::next_step) return steps;
    for (const From from : {From::below, From::above}) {
        for (PracticeStep& step : approaches_into(course, from, neck, a4_hz)) {
            if (asking != Asking::into_target) step.given.reset();
            steps.push_back(std::move(step));
        }
    }
    return steps;
}

}  // namespace

Result<Exercise> make_pool(const Course& course, const Neck& neck, double a4_hz, const Pins& pins, Asking asking) {
    std::vector<PracticeStep> all;
    for (const Course& each : in_every_key(course)) {
        auto made = steps_of(each, neck, a4_hz, asking);
        if (made) for (PracticeStep& step : *made) all.push_back(std::move(step));
    }
    Exercise pool;
    pool.family = "Planned";
    pool.stage = name(course.stage);
    pool.string_set = course.strings.text();
    for (PracticeStep& step : all) {
        step.asked.asking = asking;
        if (pins.allow(skill_of(step.asked))) pool.steps.push_back(std::move(step));
    }
    if (pool.steps.empty()) {
        return Error{"no step is left by: " + pins.text() + "; qualities with steps of their own are 6, m6, 7 and 7b5, approaches have grips of two notes or more; pin less"};
    }
    return pool;
}

PlannedSteps::PlannedSteps(std::span<const SkillTally> totals, const Exercise& pool, const ScheduleConfig& config) : what_next_(totals, config), random_(config.seed) {
    std::vector<Skill> skills;
    for (std::size_t i = 0; i < pool.steps.size(); ++i) {
        const PracticeStep* before = i == 0 ? nullptr : &pool.steps[i - 1];
        grips_.push_back(pool.steps[i].grip);
        follows_.push_back(before != nullptr && before->given && given_for(*before) == nullptr && before->given->grip == pool.steps[i].grip);
        if (follows_.back()) continue;
        auto& steps = steps_of_[skill_of(pool.steps[i].asked)];
        if (steps.empty()) skills.push_back(skill_of(pool.steps[i].asked));
        steps.push_back(i);
    }
    (void)what_next_.choose_from(skills);
}

std::optional<PlannedStep> PlannedSteps::next(std::int64_t at_ms) {
    if (last_ && *last_ + 1 < follows_.size() && follows_[*last_ + 1]) {
        last_ = *last_ + 1;
        return PlannedStep{*last_, "the target that it leads into"};
    }
    const auto asking = what_next_.next(at_ms);
    if (!asking) return std::nullopt;
    const auto& steps = steps_of_.at(asking->skill);
    std::size_t place = random_() % steps.size();
    if (last_ && grips_[steps[place]] == grips_[*last_]) place = (place + 1) % steps.size();
    last_ = steps[place];
    return PlannedStep{*last_, asking->why};
}

void PlannedSteps::answered(const Attempt& attempt, std::int64_t at_ms) {
    if (attempt.verdict == VerdictKind::unheard || attempt.try_number != 1 || attempt.helped) return;
    what_next_.answered(skill_of(attempt), attempt.verdict == VerdictKind::right, at_ms);
}

}  // namespace gripline
