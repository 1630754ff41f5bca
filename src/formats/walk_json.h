// A walk as lines of JSON (RFC 8259, one object a line).
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "practice/walk_hearing.h"
#include "practice/walk_summary.h"

namespace gripline {

/// One beat: bar, beat, chord, grip, at_s, verdict, confidence, off_ms (null when unheard), heard, faults.
[[nodiscard]] std::string walk_beat_json(const WalkBeat& beat, const BeatResult& result);
/// The whole: beats, right, wrong, unheard, strums_between, faults (kind: beats), bias_ms, spread_ms, drift_ms_per_minute,
/// drift_error_ms_per_minute (null where there are too few beats), joints (bar, beat, from, to, played, wrong, unheard, unsteady_ms),
/// suggestion.
[[nodiscard]] std::string walk_summary_json(const WalkSummary& summary);

/// A beat of a live walk: the same, at_s counted from the first click heard; and chorus, tempo_bpm (counts a minute).
[[nodiscard]] std::string live_beat_json(const WalkHearing& hearing, const HeardBeat& heard);

/// What else is told of a live walk.
struct LiveWalkFacts {
    int choruses = 0;                     ///< begun
    double tempo_bpm = 0.0;               ///< of the last chorus
    std::optional<double> delay_ms;       ///< of the devices; nothing: not measured
    std::uint64_t lost_frames = 0;        ///< of the input, since it was opened
    std::uint64_t gap_frames = 0;         ///< silence in the tool's own sound for want of time
    int pictures = 0, most_pictures_a_second = 0;  ///< drawn since the start; 0 without a screen
    double latest_picture_ms = 0.0;       ///< the longest time from a count, as heard, to its picture
};
/// As walk_summary_json, and these facts under the same names.
[[nodiscard]] std::string live_summary_json(const WalkSummary& summary, const LiveWalkFacts& facts);

}  // namespace gripline
