// What to ask next, from what the history keeps: learner model, scheduler and pins behind one door.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "practice/history_totals.h"
#include "practice/learner.h"
#include "practice/pins.h"
#include "practice/schedule.h"

namespace gripline {

/// First tries without help, as the totals keep them, taken in in the order of their last day.
[[nodiscard]] LearnerModel learner_from(std::span<const SkillTally> totals);

/// What is asked, and why, in plain words.
struct NextAsking {
    Skill skill;
    AskReason reason = AskReason::check;
    std::string why;  ///< "due: last asked 12 days ago; about 74 % likely to be right by now"
};

/// One player's session. Not for several threads.
class WhatNext {
public:
    /// `totals`: of all days; empty for who starts. Nothing is asked before `choose_from`.
    explicit WhatNext(std::span<const SkillTally> totals, const ScheduleConfig& config = {});

    /// From now on one of `skills` that the pins allow is asked; the answers so far stay known. False: the pins leave nothing.
    bool choose_from(const std::vector<Skill>& skills, const Pins& pins = {});
    /// Nothing when there is nothing to choose from.
    [[nodiscard]] std::optional<NextAsking> next(std::int64_t at_ms);
    /// A first try without help was answered. Unheard ones, second tries and helped ones teach nothing of recall: leave them out.
    void answered(const Skill& skill, bool right, std::int64_t at_ms);
    /// The chance, 0 to 1, of a right answer.
    [[nodiscard]] double recall(const Skill& skill, std::int64_t at_ms);

private:
    ScheduleConfig config_;
    std::unique_ptr<LearnerModel> model_;  // stays where it is: the scheduler looks at it
    std::optional<Scheduler> scheduler_;
};

}  // namespace gripline
