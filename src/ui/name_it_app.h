// "Name it" as a program: terminal, output, settings, history and the loop that joins them.
#pragma once

#include <iosfwd>
#include <string>
#include <vector>

#include "practice/name_it.h"
#include "ui/keeping_wishes.h"
#include "ui/practice_plan.h"
#include "ui/terminal.h"

namespace gripline {

struct NameItStart {
    Exercise pool;  ///< of make_name_it()
    Neck neck;
    PracticePlan plan;          ///< totals are filled in from the history
    std::string output;         ///< number or name; empty: the system's default
    KeepingWishes keeping;
    TerminalOptions terminal;
};

/// Runs until the player quits or the session is over. Returns 0, or 1 when there can be no screen or nothing can be heard (said on `err`).
int run_name_it(const NameItStart& start, std::ostream& out, std::ostream& err);

}  // namespace gripline
