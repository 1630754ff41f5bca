// Simulated learners drilled by rules that choose what to ask.
#pragma once

#include <array>
#include <cstdint>
#include <memory>
#include <string_view>

#include "practice/schedule.h"
#include "support/simulated_learner.h"

namespace gripline::test {

/// Who chooses: the scheduler; uniform random; the lowest share of right answers, over all answers or the last five, (right + 1) / (asked + 2), ties by lot;
/// and one that is told the truth and takes the lowest recall, which no rule can know. None asks a cell twice in a row.
enum class Rule { scheduler, random, worst, worst_of_five, told };
[[nodiscard]] std::string_view word(Rule rule) noexcept;

inline constexpr int kFindWithin = 150;    ///< attempts in which planted cells are to be found
inline constexpr int kFoundAfter = 3;      ///< askings within these that make a cell one that was found; evenly spread it would be 1.6
inline constexpr int kMostAttempts = 3000; ///< then a learner counts as not brought there, with so many attempts
inline constexpr double kGoal = 0.9;       ///< recall of every cell, all at the same moment

struct DrillSetup {
    double least_other = 0.7;  ///< see draw_starting_point
    bool find_only = false;    ///< stop after kFindWithin
    ScheduleConfig schedule;
    LearnerConfig learner;
};

struct Believed {
    long answers = 0, right = 0;
    double said = 0.0;
};

struct DrillOutcome {
    int attempts = kMostAttempts;  ///< until every cell stood at kGoal
    bool reached = false;
    /// Until then: askings of cells that stood below kGoal; first askings of cells that stood above it, which no rule can know; and the rest.
    int needed = 0, first_looks = 0, to_spare = 0;
    int found = 0;                 ///< of the three planted cells
    int singled_out = 0;           ///< cells, planted or not, that were asked kFoundAfter times
    /// The scheduler's belief before each answer, in tenths: how many, the sum of the chances it gave, how many were right.
    std::array<Believed, 10> believed{};
    int most_in_hand = 0;          ///< most cells at once that were asked but not right yet
};

/// One learner, the same for every rule; even seeds are activation learners, odd ones all-or-none learners.
[[nodiscard]] DrillOutcome drill(std::uint32_t seed, Rule rule, const DrillSetup& setup = {});

/// The skill that stands for a cell: (quality * 2 + side) * 12 + key.
[[nodiscard]] Skill skill_of_cell(std::size_t cell);

}  // namespace gripline::test
