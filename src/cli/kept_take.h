// The beats of a recorded take kept in the history.
#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "cli/options.h"
#include "practice/walk_along.h"

namespace gripline {

/// Keeps what came of the beats for `options.keeping`, as at the time when the take's file was last written. Ids are made from the take's bytes, the player and the beat, so
/// that the same take makes no doubles. What was kept, in a line.
[[nodiscard]] Result<std::string> keep_take(const WalkOptions& options, const std::vector<WalkBeat>& beats, const std::vector<BeatResult>& results, double tempo_bpm);

}  // namespace gripline
