// The joints of a line as steps to practise: each approach chord with the grip that it leads into.
#pragma once

#include "fretboard/neck.h"
#include "lines/line.h"
#include "practice/exercise.h"
#include "practice/pins.h"

namespace gripline {

/// Each joint once, in the order of the line: the approach, its target as PracticeStep::given, and after it the target as a step of its own, unless both are asked at
/// once (Asking::into_target). Root and quality are the target's. Errors: the line has no joint; the pins leave none; a way of asking that knows no joints.
[[nodiscard]] Result<Exercise> make_joints(const Line& line, const Neck& neck, double a4_hz, const Pins& pins, Asking asking);

}  // namespace gripline
