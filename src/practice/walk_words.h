// A walk in the words of the trade: what was wrong on a beat, and what the whole was like. For screens and commands alike.
#pragma once

#include <string>
#include <vector>

#include "practice/exercise.h"
#include "practice/walk_summary.h"

namespace gripline {

/// A target as a step, for verdict_words(): notes are named with flats, since no key is known.
[[nodiscard]] PracticeStep step_of(const Target& target);

/// What became of a beat: "Right.", "String 4, one fret sharp: G heard, Gb asked.", "No strum heard."
[[nodiscard]] std::string beat_words(const WalkBeat& beat, const BeatResult& result);
/// "+12", "-4", "0"
[[nodiscard]] std::string signed_words(double value);

/// "48 beats: 45 right, 2 wrong, 1 unheard."
[[nodiscard]] std::string walk_headline(const WalkSummary& summary);
/// Faults by kind, time, the changes that went worst: one sentence each.
[[nodiscard]] std::vector<std::string> walk_lines(const WalkSummary& summary);

}  // namespace gripline
