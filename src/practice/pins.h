// What the player pins practice to: this key, these qualities, only approaches from above.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "practice/skill.h"

namespace gripline {

/// Empty members pin nothing; all that are set must hold.
struct Pins {
    std::optional<PitchClass> key;        ///< root of the scale that is walked
    std::vector<std::string> qualities;   ///< suffixes as on a chart
    std::optional<From> from;             ///< only approaches from this side

    [[nodiscard]] bool allow(const Skill& skill) const;
    /// "in Bb; 7 or m7; approaches from above"; "everything" when nothing is pinned.
    [[nodiscard]] std::string text() const;
};

/// Those of `skills` that the pins allow, in their order.
[[nodiscard]] std::vector<Skill> pinned(const std::vector<Skill>& skills, const Pins& pins);

}  // namespace gripline
