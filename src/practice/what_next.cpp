#include "practice/what_next.h"

#include <algorithm>

namespace gripline {

LearnerModel learner_from(std::span<const SkillTally> totals) {
    std::vector<const SkillTally*> by_time;
    for (const SkillTally& each : totals)
        if (each.tally.first_right + each.tally.first_wrong > 0) by_time.push_back(&each);
    std::stable_sort(by_time.begin(), by_time.end(), [](const SkillTally* a, const SkillTally* b) { return a->tally.last_ms < b->tally.last_ms; });
    LearnerModel model;
    for (const SkillTally* each : by_time) {
        const RateCount count{static_cast<long>(each->tally.first_right + each->tally.first_wrong), static_cast<long>(each->tally.first_right)};
        model.recall_totals(model.number(each->skill), count, each->tally.last_ms);
    }
    return model;
}

WhatNext::WhatNext(std::span<const SkillTally> totals, const ScheduleConfig& config) : config_(config), model_(std::make_unique<LearnerModel>(learner_from(totals))) {}

bool WhatNext::choose_from(const std::vector<Skill>& skills, const Pins& pins) {
    std::vector<std::size_t> pool;
    for (const Skill& skill : pinned(skills, pins)) {
        const std::size_t number = model_->number(skill);
        if (std::find(pool.begin(), pool.end(), number) == pool.end()) pool.push_back(number);
    }
    const bool any = !pool.empty();
    scheduler_.emplace(*model_, std::move(pool), config_);
    return any;
}

std::optional<NextAsking> WhatNext::next(std::int64_t at_ms) {
    if (!scheduler_) return std::nullopt;
    const auto chosen = scheduler_->next(at_ms);
    if (!chosen) return std::nullopt;
    return NextAsking{model_->skill(chosen->skill), chosen->reason, chosen->why};
}

void WhatNext::answered(const Skill& skill, bool right, std::int64_t at_ms) { model_->answer(model_->number(skill), right, at_ms); }

double WhatNext::recall(const Skill& skill, std::int64_t at_ms) { return model_->belief(model_->number(skill), at_ms).recall(); }

}  // namespace gripline
