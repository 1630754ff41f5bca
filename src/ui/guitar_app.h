// The guided set-up of a guitar as a screen that runs.
#pragma once

#include <string>

#include "audio/sound_source.h"
#include "practice/guitar_set_up.h"
#include "ui/terminal.h"

namespace gripline {

struct GuitarScreen {
    std::string name;       ///< the guitar's
    bool replaces = false;  ///< an older set-up of that name
    double linger_s = 8.0;  ///< how long the end is shown before it is kept without a key
};

/// Until all notes are heard and kept: true; or until it is left by Escape, q or a signal, or the recording ends first: false. The source may be lost and come back meanwhile.
[[nodiscard]] bool guitar_loop(GuitarSetUp& guide, SoundSource& source, const GuitarScreen& screen, Display& display);

}  // namespace gripline
