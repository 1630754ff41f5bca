// What the player wants of a line.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "chart/chart.h"
#include "fretboard/neck.h"
#include "fretboard/string_set.h"
#include "lines/costs.h"

namespace gripline {

/// Where the bass walks within a chord.
enum class Direction { up, down, free };
/// From which side a change is reached: always one, in turn (below first), or whichever is cheaper.
enum class ApproachSide { below, above, alternating, best };
/// What an approach chord is: the target's grip slid a fret, or a dominant on the root a semitone away with its bass a semitone away.
enum class ApproachQuality { slid, dominant };
/// Scale steps to a bar: on every count, on two, on the first. The approach takes the last count before a change in each of them.
enum class Steps { four, two, one };

/// A beat chosen by hand.
struct LockedBeat {
    int bar = 1;  ///< as played, from 1
    int beat = 1;
    Grip grip;
};

/// The scale for every chord that is written so.
struct ScaleForChord {
    std::string chord;  ///< as in the chart: "G7"
    ChosenScale scale;
};

struct LineSettings {
    Neck neck;
    /// The first is used where it can be, the others where the neck runs out (common practice, no source).
    std::vector<StringSet> sets{StringSet({StringNumber(6), StringNumber(4), StringNumber(3)}), StringSet({StringNumber(5), StringNumber(3), StringNumber(2)})};
    Steps steps = Steps::four;
    Direction direction = Direction::free;
    ApproachSide approach = ApproachSide::best;
    ApproachQuality quality = ApproachQuality::slid;
    bool landing = false;   ///< only the first beat of each chord and the approaches are played
    bool comes_again = false;  ///< the line is played chorus after chorus: its last beat leads to its first grip
    int region_low = 0;     ///< frets where the hand is wanted, from the capo
    int region_high = 12;
    Costs costs;
    std::vector<LockedBeat> locked;
    std::vector<ScaleForChord> scales;
    std::uint64_t seed = 0;  ///< decides between lines of equal cost
};

}  // namespace gripline
