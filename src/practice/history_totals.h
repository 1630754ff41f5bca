// The running totals of a player: what pages and the learner model start from. Their size grows with skills and days, never with attempts.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "base/result.h"
#include "practice/history.h"
#include "practice/skill.h"

namespace gripline {

/// Attempts added up.
struct PracticeTally {
    std::int64_t right = 0, wrong = 0, unheard = 0;
    std::int64_t first_right = 0, first_wrong = 0;  ///< of these, first tries at an asking, without help
    std::int64_t answers = 0;       ///< right and wrong ones whose time to answer is known
    double answer_s = 0.0;          ///< sum of these times
    double answer_ln = 0.0;         ///< sum of their natural logarithms: exp(answer_ln / answers) is the geometric mean
    std::int64_t beats = 0;         ///< attempts whose time off the beat is known
    double off_ms = 0.0, off_square = 0.0;  ///< sum of these times, and of their squares
    double most_tempo_bpm = 0.0;    ///< the fastest at which one was right; 0: none
    std::int64_t last_ms = 0;       ///< UTC, of the latest attempt
};

struct SkillTally {
    Skill skill;
    std::int64_t day = 0;  ///< days since 1970-01-01 by the player's clock; in totals over all days 0
    PracticeTally tally;
};

struct DayTally {
    std::int64_t day = 0;
    std::int64_t right = 0, wrong = 0, unheard = 0;
};

/// How often a fault was the likeliest of its attempt.
struct FaultTally {
    Skill skill;
    FaultKind kind = FaultKind::nothing;
    int string = 0;  ///< 0: the fault names none
    int frets = 0;   ///< + is sharp
    std::int64_t count = 0;
};

/// First tries without help in time, by the tempo they were asked at, rounded to a whole count a minute.
struct TempoTally {
    Skill skill;
    int tempo_bpm = 0;
    std::int64_t right = 0, wrong = 0;
};

/// name_it: what was asked against what was answered.
struct AnswerTally {
    std::string question, asked, answered;
    std::int64_t count = 0;
};

/// Over all days, one a skill, in the order of skills. Nobody of that name: none.
[[nodiscard]] Result<std::vector<SkillTally>> skill_totals(History& history, const std::string& player);
/// Day by day, from `from_day` on and before `before_day`, in the order of days.
[[nodiscard]] Result<std::vector<SkillTally>> skill_days(History& history, const std::string& player, std::int64_t from_day, std::int64_t before_day);
/// Summed over weeks (Monday to Sunday): `day` is the Monday. Whole weeks: all that have a day in the range.
[[nodiscard]] Result<std::vector<SkillTally>> skill_weeks(History& history, const std::string& player, std::int64_t from_day, std::int64_t before_day);
/// One skill's days, in their order.
[[nodiscard]] Result<std::vector<SkillTally>> days_of_skill(History& history, const std::string& player, const Skill& skill);
[[nodiscard]] Result<std::vector<DayTally>> day_totals(History& history, const std::string& player);
[[nodiscard]] Result<std::vector<FaultTally>> fault_totals(History& history, const std::string& player);
[[nodiscard]] Result<std::vector<TempoTally>> tempo_totals(History& history, const std::string& player);
[[nodiscard]] Result<std::vector<AnswerTally>> answer_totals(History& history, const std::string& player);

}  // namespace gripline
