#include "practice/planned_steps.h"

#include <utility>

#include "practice/practice_attempts.h"

namespace gripline {
namespace {

/// The approach is the target's grip slid one fret (common practice, no source): the same chord a semitone lower or higher, asked as its approach.
void add_approaches(const Course& target, From from, const Neck& neck, double a4_hz, std::vector<PracticeStep>& steps) {
    auto moved = make_exercise(root_moved(target, from == From::below ? -1 : 1), neck, a4_hz);
    if (!moved) return;  // the neck holds none
    for (PracticeStep& step : moved->steps) {
        if (step.asked.place != Sounds::chord) continue;
        step.asked.root = target.root;
        step.asked.place = Sounds::approach;
        step.asked.from = from;
        step.asked.bass_degree = degree_in_scale(target.root, target.family, step.notes().front().note.pitch_class());
        steps.push_back(std::move(step));
    }
}

}  // namespace

Result<Exercise> make_pool(const Course& course, const Neck& neck, double a4_hz, const Pins& pins, Asking asking) {
    std::vector<PracticeStep> all;
    for (const Family family : kSixthDiminishedFamilies) {
        for (int key = 0; key < 12; ++key) {
            Course each = course;
            each.family = family;
            each.root = usual_root(PitchClass(key));
            auto made = make_exercise(each, neck, a4_hz);
            if (made) for (PracticeStep& step : made->steps) all.push_back(std::move(step));
            if (course.stage == StageKind::scale) continue;
            add_approaches(each, From::below, neck, a4_hz, all);
            add_approaches(each, From::above, neck, a4_hz, all);
        }
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
        grips_.push_back(pool.steps[i].grip);
        auto& steps = steps_of_[skill_of(pool.steps[i].asked)];
        if (steps.empty()) skills.push_back(skill_of(pool.steps[i].asked));
        steps.push_back(i);
    }
    (void)what_next_.choose_from(skills);
}

std::optional<PlannedStep> PlannedSteps::next(std::int64_t at_ms) {
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
