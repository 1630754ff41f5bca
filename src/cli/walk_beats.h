// The beats that `gripline walk` asks: the line over the chart at a tempo, or the grips of a list.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "cli/options.h"
#include "practice/walk_score.h"

namespace gripline {

struct AskedWalk {
    std::vector<WalkBeat> beats;  ///< at least one
    WalkScore score;              ///< the same beats in counts, with their bars: for walking live
    double tempo_bpm = 120.0;     ///< counts a minute
    double count_s = 0.5;         ///< length of a count
    /// How bars of the score lead back to their first grip; nothing where the line does so already, or the grips are a list's.
    std::function<std::optional<LoopEnd>(BarRange)> loop_end;
    std::vector<std::string> remarks;  ///< what the chart can't hold of an imported file
};

/// Reads chart and grips and builds the line. Errors name the file or option, the value and what is allowed.
[[nodiscard]] Result<AskedWalk> plan_walk(const WalkOptions& options);

}  // namespace gripline
