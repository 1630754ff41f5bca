// Options on what is kept of whom. Only arguments*.cpp include it, for it knows CLI11.
#pragma once

#include <CLI/CLI.hpp>

#include "cli/options.h"

namespace gripline {

/// --who, --guitar, --history, --no-history.
void add_keeping(CLI::App& app, KeepingWishes& wishes);
/// The verbs of `gripline history`; the one that was used sets `verb`.
CLI::App* add_history(CLI::App& app, HistoryOptions& o);

}  // namespace gripline
