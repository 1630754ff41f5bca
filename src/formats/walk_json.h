// A walk as lines of JSON (RFC 8259, one object a line).
#pragma once

#include <string>

#include "practice/walk_summary.h"

namespace gripline {

/// One beat: bar, beat, chord, grip, at_s, verdict, confidence, off_ms (null when unheard), heard, faults.
[[nodiscard]] std::string walk_beat_json(const WalkBeat& beat, const BeatResult& result);
/// The whole: beats, right, wrong, unheard, strums_between, faults (kind: beats), bias_ms, spread_ms, drift_ms_per_minute,
/// drift_error_ms_per_minute (null where there are too few beats), joints (bar, beat, from, to, played, wrong, unheard, unsteady_ms),
/// suggestion.
[[nodiscard]] std::string walk_summary_json(const WalkSummary& summary);

}  // namespace gripline
