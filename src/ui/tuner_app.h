// The tuner as a screen that runs.
#pragma once

#include "listen/pitch_listener.h"
#include "practice/tuner.h"
#include "ui/terminal.h"

namespace gripline {

/// Until q, Escape or a signal. The source may be lost and come back meanwhile.
void tuner_loop(PitchListener& listener, Tuner& tuner, const TunerConfig& config, Display& display);

}  // namespace gripline
