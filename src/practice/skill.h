// What an attempt trains: the key under which learner model, running totals and statistics count it.
#pragma once

#include <compare>
#include <optional>
#include <string>
#include <string_view>

#include "base/result.h"
#include "practice/attempt.h"

namespace gripline {

/// Quality x role x approach direction x key x string set x way of asking.
struct Skill {
    std::string quality = "7";          ///< suffix of the chord walked, as on a chart: "7", "m7", "" for a major triad
    Sounds role = Sounds::chord;        ///< chord, passing or approach
    std::optional<From> from;           ///< of an approach; nullopt otherwise
    PitchClass key;                     ///< root of the scale that is walked
    std::string strings = "6-4-3";      ///< string set
    Asking asking = Asking::shown;

    /// "7 / approach / above / Bb / 6-4-3 / named"; without a side, and for a major triad: "major / chord / - / C / 6-4-3 / shown".
    [[nodiscard]] std::string text() const;
    friend auto operator<=>(const Skill&, const Skill&) = default;
};

/// Reads what Skill::text() writes. Notes in any spelling.
[[nodiscard]] Result<Skill> parse_skill(std::string_view text);

[[nodiscard]] Skill skill_of(const Attempt& attempt);

}  // namespace gripline
