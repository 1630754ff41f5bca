// The shortest path over beats and grips: the cheapest line that keeps the rules, or breaks the fewest where the neck leaves no other.
#pragma once

#include <cstdint>
#include <vector>

#include "lines/problem.h"

namespace gripline {

/// An extra price for each choice of each slot, in hundredths; empty: none. Makes the search avoid lines that it found before.
using Surcharge = std::vector<std::vector<std::int64_t>>;

/// The best choice of another grip on a beat.
struct SecondBest {
    int chosen = -1;               ///< -1: there is none
    std::int64_t hundredths = 0;   ///< how much dearer the best line with it is
};

struct Path {
    std::vector<int> chosen;          ///< one a slot
    std::vector<SecondBest> seconds;  ///< one a slot when asked for
    std::uint64_t joints = 0;         ///< joints weighed: the work done
};

/// Finds the path. Work and memory grow with the number of slots alone. First only rule-keeping joints are weighed; when no line keeps
/// every rule, all joints are, and a broken rule is dearer than any cost. Of lines of equal cost the one with fewer frets outside the
/// wanted part of the neck is found; what is equal then too, the seed of the settings tells apart.
[[nodiscard]] Path shortest_path(const Problem& problem, const Surcharge& surcharge = {}, bool want_seconds = false);

}  // namespace gripline
