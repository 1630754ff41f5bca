// A chart and the player's wishes as a shortest-path problem: candidates for every beat, and what each costs beside its neighbours.
#pragma once

#include <algorithm>
#include <cstdlib>
#include <map>
#include <memory>

#include "lines/candidate.h"
#include "lines/walk_plan.h"

namespace gripline {

struct Problem {
    LineSettings settings;
    WalkPlan plan;
    std::vector<std::shared_ptr<const Choices>> choices;  ///< one a slot; slots of the same chord share theirs

    [[nodiscard]] const Slot& slot(int i) const { return plan.slots[static_cast<std::size_t>(i)]; }
    [[nodiscard]] const Choices& at(int i) const { return *choices[static_cast<std::size_t>(i)]; }
    [[nodiscard]] const Candidate& candidate(int i, int chosen) const { return at(i).all[static_cast<std::size_t>(chosen)]; }
    [[nodiscard]] int size() const noexcept { return static_cast<int>(plan.slots.size()); }
    /// The slot ahead of one: of a line that comes again the last ahead of the first.
    [[nodiscard]] int before(int i) const noexcept { return i > 0 ? i - 1 : size() - 1; }
    [[nodiscard]] int after(int i) const noexcept { return i + 1 < size() ? i + 1 : 0; }
};

/// Poses the problem. The chart must outlive it. Errors: settings out of range, a locked beat that is not in the line, a chord without a
/// grip on the wanted part of the neck (with bar and beat).
[[nodiscard]] Result<Problem> pose(const Chart& chart, const LineSettings& settings);

/// The rule that a choice breaks by itself on that slot.
[[nodiscard]] inline Broken broken_alone(const Problem& problem, int slot, int chosen) {
    const Candidate& candidate = problem.candidate(slot, chosen);
    if (candidate.broken != Broken::none) return candidate.broken;
    return problem.slot(slot).first && !candidate.by_hand && candidate.sounds == Sounds::passing ? Broken::starts_on_passing : Broken::none;
}

/// Frets that the hand lies outside the wanted part of the neck.
[[nodiscard]] inline int frets_outside(const LineSettings& settings, const Candidate& candidate) {
    return std::max({settings.region_low - candidate.hand, candidate.hand - settings.region_high, 0});
}

/// Tells add(Cost, hundredths) what a choice costs by itself.
template <class Add>
void cost_alone(const Problem& problem, int slot, int chosen, Add add) {
    const Candidate& candidate = problem.candidate(slot, chosen);
    const LineSettings& settings = problem.settings;
    const auto value = [&](Cost cost) { return settings.costs.hundredths(cost); };
    add(Cost::stretch, candidate.stretch * value(Cost::stretch));
    add(Cost::region, frets_outside(settings, candidate) * value(Cost::region));
    if (candidate.set > 0) add(Cost::other_strings, value(Cost::other_strings));
    const Slot& here = problem.slot(slot);
    const Run& run = problem.plan.runs[static_cast<std::size_t>(here.run)];
    if (here.first && PitchClass(candidate.bass) != run.bass) {
        const Cost other = run.slash ? Cost::slash_bass : Cost::other_bass;
        add(other, value(other));
        if (slot == 0) add(Cost::opening, value(Cost::opening));
    }
    if (here.strong && candidate.sounds == Sounds::passing) add(Cost::strong_beat, value(Cost::strong_beat));
}

/// How two neighbours join.
struct Joint {
    bool possible = true;          ///< an approach leads nowhere but into its target
    Broken broken = Broken::none;  ///< a rule that the joint breaks
    int motion = 0;                ///< of the walk: 1 up, -1 down, 0 standing still or after a rest
};

/// The joint from `before` on the slot ahead to `chosen` on slot; tells add(Cost, hundredths) what it costs, without turns and repeated bars, which
/// need more than two beats.
template <class Add>
Joint join(const Problem& problem, int slot, int before, int chosen, Add add) {
    const Candidate& a = problem.candidate(problem.before(slot), before);
    const Candidate& b = problem.candidate(slot, chosen);
    const Slot& to = problem.slot(slot);
    const Slot& from = problem.slot(problem.before(slot));
    const Costs& costs = problem.settings.costs;
    if (a.target >= 0 && a.target != chosen) return {false, Broken::none, 0};
    add(Cost::hand_travel, std::abs(b.hand - a.hand) * costs.hundredths(Cost::hand_travel));
    if (to.first && problem.plan.runs[static_cast<std::size_t>(to.run)].after_rest) return {};
    Joint joint{true, Broken::none, (b.bass > a.bass) - (b.bass < a.bass)};
    const bool bound = !a.by_hand && !b.by_hand;
    bool octave = false;
    if (joint.motion == 0) {
        add(Cost::standing_still, costs.hundredths(Cost::standing_still));
        if (bound) joint.broken = Broken::stands_still;
    } else if (bound && from.run == to.run && b.step >= 0 && a.step >= 0 && !to.approach) {
        Move move;
        for (const Move& each : problem.at(slot).moves[static_cast<std::size_t>(before)])
            if (each.to == chosen) move = each;
        const Direction asked = problem.settings.direction;
        const bool wrong_way = (asked == Direction::up && !move.up) || (asked == Direction::down && move.up);
        if (move.kind == MoveKind::none || wrong_way || (move.kind == MoveKind::third && !to.strong)) joint.broken = Broken::not_by_step;
        octave = move.octave;
        if (octave) joint.motion = move.up ? 1 : -1;
    }
    constexpr int kTone_semitones = 2;
    if (octave) add(Cost::octave_leap, costs.hundredths(Cost::octave_leap));
    else add(Cost::bass_leap, std::max(0, std::abs(b.bass - a.bass) - kTone_semitones) * costs.hundredths(Cost::bass_leap));
    return joint;
}

/// What earlier beats leave behind for later ones: the way the walk goes, and the grip that its bar began on.
struct Memory {
    int motion = 0;
    int bar_start = -1;  ///< index of the choice, or -1: it does not matter
};

/// The memory behind `chosen`; tells add(Cost, hundredths) of turns and repeated bars.
template <class Add>
Memory remember(const Problem& problem, int slot, const Memory& before, const Joint& joint, int chosen, Add add) {
    const Slot& here = problem.slot(slot);
    Memory after{joint.motion, -1};
    if (!(here.first && problem.plan.runs[static_cast<std::size_t>(here.run)].after_rest)) {
        if (joint.motion == 0) after.motion = before.motion;
        else if (before.motion != 0 && before.motion != joint.motion) add(Cost::turn, problem.settings.costs.hundredths(Cost::turn));
    }
    const bool by_hand = problem.candidate(slot, chosen).by_hand;
    if (here.bar_start && !by_hand && before.bar_start == chosen) add(Cost::repeated_bar, problem.settings.costs.hundredths(Cost::repeated_bar));
    if (here.remembers) after.bar_start = !here.bar_start ? before.bar_start : by_hand ? -1 : chosen;
    return after;
}

/// What a whole line costs: rules broken, and every cost of every beat. Of a line that comes again the way from the last grip to the first
/// counts to the first beat; what follows remembers nothing of it.
struct Score {
    int broken = 0;
    std::int64_t hundredths = 0;
    std::vector<CostItems> beats;
    std::vector<Broken> rules;  ///< broken on each beat
    bool possible = true;
};
[[nodiscard]] Score score(const Problem& problem, const std::vector<int>& chosen);

}  // namespace gripline
