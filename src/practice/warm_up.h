// A few easy grips to begin with, before anything is drilled: known ones, a small stretch, in the middle of the neck.
#pragma once

#include <span>

#include "practice/exercise.h"
#include "practice/history_totals.h"

namespace gripline {

/// Half a minute of them (judgement).
inline constexpr int kWarmUpSteps = 4;

/// The easiest chords of `pool` (no approaches, no passing chords), each another grip, asked with the grip shown; those that `totals` know as right come first. Fewer
/// than `steps`, down to none, when the pool has no more.
[[nodiscard]] Exercise make_warm_up(const Exercise& pool, std::span<const SkillTally> totals, int steps = kWarmUpSteps);

}  // namespace gripline
