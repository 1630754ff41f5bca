// The same pitch classes over another bass, on the same strings: for showing what lies near a grip.
#pragma once

#include <vector>

#include "fretboard/neck.h"

namespace gripline {

/// All grips on the strings of `grip` that sound exactly its pitch classes with another one in the bass, nearest to the hand first.
/// Notes rise from string to string, frets lie within the neck and the stretch; an open string counts as fret 0 of the stretch.
/// Empty when there is none, or when `grip` is not for the strings of the neck.
[[nodiscard]] std::vector<Grip> other_basses(const Grip& grip, const Neck& neck = {});

}  // namespace gripline
