// How a practice session is led: what is asked and how, when it ends, when a break is suggested.
#pragma once

#include <array>
#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "practice/history_totals.h"
#include "practice/exercise.h"
#include "practice/pins.h"

namespace gripline {

/// When hands should rest: 25 minutes (common practice, no source).
inline constexpr double kBreakAfter_min = 25.0;

/// Usual practice tempos begin near 100 (common practice, no source).
inline constexpr double kPairTempo_bpm = 100.0;

/// What two or three muted strums, a pause before and after them, may ask for.
enum class GestureAsks { nothing, again, next, hear, show, pause };
inline constexpr std::array kGestureAsks{GestureAsks::nothing, GestureAsks::again, GestureAsks::next, GestureAsks::hear, GestureAsks::show, GestureAsks::pause};
/// "nothing", "again", "next", "hear", "show", "pause".
[[nodiscard]] const char* word(GestureAsks asks);
/// Reads a word as above.
[[nodiscard]] std::optional<GestureAsks> parse_gesture(std::string_view text);

struct Gestures {
    GestureAsks two = GestureAsks::again, three = GestureAsks::next;
    [[nodiscard]] bool any() const { return two != GestureAsks::nothing || three != GestureAsks::nothing; }
    /// "Muted strums: two again, three next."; empty when they ask for nothing.
    [[nodiscard]] std::string text() const;
};

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
    int warm_up = 0;                 ///< easy grips before anything else
    Gestures gestures;
    bool tones = false;              ///< a short soft tone for right or wrong
    std::function<std::int64_t()> wall_ms;     ///< nothing: the clock on the wall

    [[nodiscard]] bool led() const { return planned || minutes > 0.0 || steps > 0; }
};

}  // namespace gripline
