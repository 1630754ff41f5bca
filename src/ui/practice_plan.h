// How a practice session is led: what is asked and how, when it ends, when a break is suggested.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <vector>

#include "practice/history_totals.h"
#include "practice/exercise.h"
#include "practice/pins.h"

namespace gripline {

/// When hands should rest: 25 minutes (common practice, no source).
inline constexpr double kBreakAfter_min = 25.0;

/// Usual practice tempos begin near 100 (common practice, no source).
inline constexpr double kPairTempo_bpm = 100.0;

struct PracticePlan {
    bool planned = false;            ///< the learner model chooses the steps; else the course's, in their order
    Pins pins;                       ///< of a planned session
    std::shared_ptr<const Exercise> pool;  ///< asked instead of all that the pins leave: a chart's joints; none: as the pins say
    Asking asking = Asking::shown;   ///< how each step is asked; not name_it
    std::vector<SkillTally> totals;  ///< of the player's history, over all days
    double tempo_bpm = kPairTempo_bpm;  ///< of approach and target in time, counts a minute
    int most_new = 6;                ///< new grips in hand at once
    double minutes = 0.0;            ///< the session's length; 0: until the player ends it
    int steps = 0;                   ///< the session's length in steps; 0: as above
    double break_after_min = kBreakAfter_min;  ///< 0: no break is suggested
    bool tones = false;              ///< a short soft tone for right or wrong
    std::function<std::int64_t()> wall_ms;     ///< nothing: the clock on the wall

    [[nodiscard]] bool led() const { return planned || minutes > 0.0 || steps > 0; }
};

}  // namespace gripline
