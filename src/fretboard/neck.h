// The neck that grips must lie on: tuning, capo, length, and what the hand reaches.
#pragma once

#include <algorithm>

#include "fretboard/grip.h"

namespace gripline {

/// Frets of grips count from the capo (0 is the capo, or the nut without one); `last_fret` counts from the nut as on the instrument.
struct Neck {
    Tuning tuning;
    int capo = 0;                 ///< fret from the nut, 0 to 12
    int last_fret = 20;           ///< from the nut; 20 is the usual archtop neck (common practice, no source)
    int lowest_fret = 0;          ///< the part of the neck that grips may use, counted from the capo
    int highest_fret = kMaxFret;
    int max_stretch = 4;          ///< frets between the lowest and the highest fretted string: one finger a fret and a reach (common practice)
    bool left_handed = false;     ///< changes diagrams only

    /// The highest fret, counted from the capo, that a grip may use.
    [[nodiscard]] int top_fret() const noexcept { return std::min(highest_fret, last_fret - capo); }
};

/// An error when a value is out of range: capo 0 to 12, last fret 12 to 24, lowest fret 0 to the highest, stretch 1 to 6.
[[nodiscard]] Result<Neck> checked(const Neck& neck);

}  // namespace gripline
