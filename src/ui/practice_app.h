// The practice screen as a program: terminal, sound, settings and the loop that joins them.
#pragma once

#include <iosfwd>
#include <optional>
#include <string>

#include "base/clock.h"
#include "fretboard/neck.h"
#include "practice/course.h"
#include "ui/keeping_wishes.h"
#include "ui/practice_run.h"
#include "ui/settings.h"
#include "ui/terminal.h"

namespace gripline {

/// What the command line asks for; what it leaves open comes from the settings kept from last time.
struct PracticeStart {
    std::optional<NoteName> root;
    std::optional<Family> family;
    std::optional<StageKind> stage;
    std::optional<StringSet> strings;     ///< nothing, with `stage`: the stage's usual set
    std::optional<StepOrder> order;
    std::optional<std::string> device;    ///< number or name of the input for this session; nothing: the remembered one; empty: the system's default
    std::string output;                   ///< number or name of the output; empty: the system's default
    bool player = false;                  ///< the built-in player is the input
    Neck neck;
    double a4_hz = 440.0;
    KeepingWishes keeping;
    TerminalOptions terminal;
    PracticePlan plan;  ///< totals are filled in from the history
};

/// What is kept for the next time: what was chosen on the screen. The input is not: whoever mistypes one, or wants another just now, would listen to it for ever
/// (gripline devices --use remembers one).
[[nodiscard]] Settings settings_after(Settings settings, const PracticeRun& run);

/// Runs until the player quits or the process is asked to stop. Returns 0, or 1 when there can be no screen (said on `err`). Afterwards
/// one line on `out` says how the session went.
int run_practice(const PracticeStart& options, std::ostream& out, std::ostream& err);

/// The loop by itself: keys and sound in, pictures out, until the run is over or the display asks to stop. `clock` gives seconds.
void practice_loop(PracticeRun& run, Display& display, const Clock& clock);

}  // namespace gripline
