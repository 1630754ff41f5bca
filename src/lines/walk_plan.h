// Where the steps of a line fall: which beats are played, over which chord, and what is asked of each.
#pragma once

#include <vector>

#include "chart/chart.h"
#include "lines/line_settings.h"
#include "theory/serving.h"

namespace gripline {

/// A chord for as long as it lasts, also over bar lines.
struct Run {
    const PlacedChord* chord = nullptr;  ///< of the chart that was planned
    Serving scale;
    PitchClass bass;                     ///< that it is to begin over: the one behind its slash where the scale's chord holds it, else its root
    bool slash = false;                  ///< it is the one behind the slash
    int first_slot = 0;
    int slots = 0;
    int counts = 0;
    bool changes = false;     ///< another chord follows at once (behind the last run of a line that comes again the first one): the last slot is an approach when there are two counts or more
    bool after_rest = false;  ///< begins a line that does not come again, or follows N.C.
};

/// One step of the line.
struct Slot {
    int bar = 1;          ///< as played, from 1
    int written_bar = 0;  ///< index into Chart::bars
    int beat = 1;
    int run = 0;
    bool first = false;      ///< of its run: the chord itself is asked
    bool approach = false;
    bool strong = false;
    bool bar_start = false;  ///< the first step of its bar
    bool remembers = false;  ///< the bar's first grip still matters here: the next bar begins in the same run
};

struct WalkPlan {
    std::vector<Run> runs;
    std::vector<Slot> slots;
};

/// The plan for a chart with its repeats played. The chart must outlive it. An error when no bar holds a chord, or a scale
/// is chosen for a chord that the chart does not hold.
[[nodiscard]] Result<WalkPlan> plan_walk(const Chart& chart, const LineSettings& settings);

}  // namespace gripline
