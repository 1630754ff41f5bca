// What a player can do, skill by skill, as far as their answers tell.
//
// A right answer has the chance Phi(s): s is a sum of parts, each believed with a mean and a doubt. One part is shared by all skills, others by those of one
// quality, role and side, key, string set or way of asking, or of one chord; the last is the skill's own. So a few dozen answers
// say something of skills that were never asked. Sources: additive factors (Cen, Koedinger & Junker 2006); right and wrong answers
// of a skill weigh as practice (Pavlik, Cen & Koedinger 2009), through the logarithm of their number, the latest again by themselves (Galyardt & Goldin 2015), and recall falls with the logarithm of the time since
// (Lindsey, Shroyer, Pashler & Mozer 2014); beliefs about all parts, the rates of learning and forgetting among them, follow each answer
// by moment matching (Graepel, Candela, Borchert & Herbrich 2010); doubt grows with time and practice as in Glickman 1999. What was missed and
// just learnt slips sooner than what was always known: the more wrong answers, the steeper, as the half-life of Settles & Meeder 2016 falls
// with them; how steep is the player's own (Sense, Behrens, Meijer & van Rijn 2016).
#pragma once

#include <array>
#include <cstdint>
#include <map>
#include <string>
#include <vector>

#include "practice/skill.h"
#include "practice/statistics_rate.h"

namespace gripline {

/// What is believed of a skill at some time.
struct RecallBelief {
    double mean = 0.0;      ///< of s, above
    double variance = 1.0;  ///< of s
    /// The chance of a right answer: doubt draws it towards one half.
    [[nodiscard]] double recall() const noexcept;
    /// How sure it is, 0 to 1, that the chance of a right answer lies below `rate` (between 0 and 1).
    [[nodiscard]] double surely_below(double rate) const noexcept;
};

/// Doubts at the start, as standard deviations, and rates; in units of s. Chosen on the simulated learners of tests/bench/learner_bench.cpp (other
/// seeds than those it reports), 2026-11-25.
struct LearnerConfig {
    double start = 0.9, start_doubt = 1.2;                 ///< of the part shared by all: about eight in ten
    double factor_doubt = 0.3;                             ///< of a quality, role and side, key, string set, way of asking
    double chord_doubt = 0.3;                              ///< of a chord (quality and key)
    double own_doubt = 1.4;                                ///< of the skill itself
    double right_gain = 0.5, wrong_gain = 0.1, gain_doubt = 0.13;   ///< for each e-fold of 1 + answers
    double forgetting = 0.05, forgetting_doubt = 0.07;     ///< for each e-fold of 1 + minutes since the last answer ...
    double slower = 0.3;                                   ///< ... less by 1 + so much for each e-fold of 1 + right answers
    double slipping = 0.4, slipping_doubt = 0.2;           ///< besides, for each e-fold of minutes times each e-fold of 1 + wrong answers ...
    double slipping_slower = 0.5;                          ///< ... less by 1 + so much for each e-fold of 1 + right ones
    double slipping_until_min = 60.0;                      ///< what has not slipped by then keeps to the slower forgetting
    double recency = 1.5, recency_doubt = 0.3;             ///< of the latest answers, right +1 and wrong -1 ...
    double recency_fade = 0.6;                             ///< ... each weighing so much of the one after it
    double practice_drift = 0.15;                          ///< standard deviation that an answer adds to the skill's own part: learning is sudden
    double day_drift = 0.03;                               ///< that a day adds
};

/// One player's. Not for several threads.
class LearnerModel {
public:
    explicit LearnerModel(const LearnerConfig& config = {});

    /// The number of a skill, from 0 in the order in which they were first named; new ones are made.
    std::size_t number(const Skill& skill);
    [[nodiscard]] std::size_t skills() const noexcept { return states_.size(); }
    [[nodiscard]] const Skill& skill(std::size_t number) const { return states_[number].skill; }

    /// An answer. Times should not fall; one from before the skill's last counts as of then.
    void answer(std::size_t number, bool right, std::int64_t at_ms);
    /// Older answers of which only the sums are known, before any `answer` of that skill. They count as at most kMostOld answers in the
    /// given proportion, all at `last_ms`.
    void recall_totals(std::size_t number, const RateCount& count, std::int64_t last_ms);

    [[nodiscard]] RecallBelief belief(std::size_t number, std::int64_t at_ms) const;
    [[nodiscard]] const RateCount& count(std::size_t number) const { return states_[number].count; }
    /// The last answer's time; nothing has been answered: 0.
    [[nodiscard]] std::int64_t last_ms(std::size_t number) const { return states_[number].last_ms; }
    /// Right answers since the last wrong one.
    [[nodiscard]] long right_in_a_row(std::size_t number) const { return states_[number].in_a_row; }

    static constexpr long kMostOld = 30;

private:
    struct Part {
        double mean = 0.0;
        double variance = 1.0;
    };
    static constexpr std::size_t kShared = 7;  // all, quality, role and side, key, strings, asking, chord
    struct SkillState {
        Skill skill;
        std::array<std::size_t, kShared> shared{};  // into parts_
        Part own;
        RateCount count;
        double recent = 0.0;
        long in_a_row = 0;
        std::int64_t last_ms = 0;
    };
    /// What the rates are multiplied with.
    struct Practice {
        double right = 0.0, wrong = 0.0, forgotten = 0.0, slipped = 0.0, own_variance = 0.0, recent = 0.0;
    };
    std::size_t part(const std::string& name, double doubt);
    [[nodiscard]] Practice practice(const SkillState& state, std::int64_t at_ms) const;
    [[nodiscard]] RecallBelief sum(const SkillState& state, const Practice& practice) const;

    LearnerConfig config_;
    std::vector<Part> parts_;
    Part right_gain_, wrong_gain_, forgetting_, slipping_, recency_;
    std::map<std::string, std::size_t> part_numbers_;
    std::vector<SkillState> states_;
    std::map<Skill, std::size_t> numbers_;
};

}  // namespace gripline
