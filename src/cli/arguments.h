// Reads the command line (CLI11, which this file pair alone sees).
#pragma once

#include <string>
#include <variant>
#include <vector>

#include "cli/options.h"

namespace gripline {

/// Instead of a command: what to print (help, version, or what was wrong) and the status to leave with.
struct Parting {
    int exit_status = kExitDone;
    std::string text;  ///< for standard output when exit_status is 0, else for standard error
};

/// arguments: without the program's name. Wrong usage says what was meant, as far as one can guess.
[[nodiscard]] std::variant<Command, Parting> read_arguments(std::vector<std::string> arguments);

}  // namespace gripline
