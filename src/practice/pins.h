// What the player pins practice to: this key, these qualities, only approaches from above, only this chart's joints.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "lines/line.h"
#include "practice/skill.h"

namespace gripline {

/// Empty members pin nothing; all that are set must hold.
struct Pins {
    std::optional<PitchClass> key;        ///< root of the scale that is walked
    std::vector<std::string> qualities;   ///< suffixes as on a chart
    std::optional<From> from;             ///< only approaches from this side
    std::vector<Skill> joints;            ///< only these, whatever the way of asking

    [[nodiscard]] bool allow(const Skill& skill) const;
    /// "in Bb; 7 or m7; approaches from above; the chart's joints"; "everything" when nothing is pinned.
    [[nodiscard]] std::string text() const;
};

/// Those of `skills` that the pins allow, in their order.
[[nodiscard]] std::vector<Skill> pinned(const std::vector<Skill>& skills, const Pins& pins);

/// A line's joints: each approach, and the grip it leads into. No repeats, in the order of the line. Beats whose chord has no quality that a
/// chart symbol names are left out.
[[nodiscard]] std::vector<Skill> joints_of(const Line& line, Asking asking);

}  // namespace gripline
