// What a walk was like as a whole: verdicts, faults by kind, time, the changes that went worst, and one thing to do next.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "practice/walk_along.h"

namespace gripline {

inline constexpr std::size_t kFaultKinds = 6;
inline constexpr std::size_t kMostJoints = 3;

/// A change of chord: the last beat before it (its approach) and the first on the new chord. Repeats of the same written change count together.
struct WalkJoint {
    int bar = 1, beat = 1;   ///< where it first comes, as played
    std::string from, to;    ///< the chords, as written
    int played = 0;          ///< how often it came
    int wrong = 0, unheard = 0;  ///< beats of it
    std::optional<double> unsteady_ms{};  ///< mean distance of its heard beats from the player's own mean; none heard: nothing
};

/// Times are over the beats heard, right or wrong.
struct WalkSummary {
    int beats = 0, right = 0, wrong = 0, unheard = 0;
    int strums_between = 0;
    std::array<int, kFaultKinds> faults{};   ///< beats whose likeliest fault is of that kind, by FaultKind
    std::optional<double> bias_ms;           ///< mean of off_ms: early is negative; one beat at least
    std::optional<double> spread_ms;         ///< standard deviation of off_ms; two beats at least
    std::optional<double> drift_ms_per_minute;        ///< slope of off_ms by least squares, - hurries; three beats at least
    std::optional<double> drift_error_ms_per_minute;  ///< standard error of that slope
    std::vector<WalkJoint> joints;           ///< at most kMostJoints with a fault, worst first
    std::string suggestion;                  ///< one sentence
};

/// Whether the drift stands out of the spread: in a few bars it seldom does.
[[nodiscard]] bool drifts(const WalkSummary& summary) noexcept;

/// Of the results given so far (any number, also none), which are of these beats.
[[nodiscard]] WalkSummary summarise_walk(const std::vector<WalkBeat>& beats, const std::vector<BeatResult>& results, int strums_between, double tempo_bpm);

}  // namespace gripline
