// Groups of options that several commands share, and the commands that have a file of their own. Only arguments*.cpp include it.
#pragma once

#include <CLI/CLI.hpp>
#include <string>

#include "cli/options.h"

namespace gripline {

/// A check for numbers that NaN fails too (CLI11's own Range lets it pass).
[[nodiscard]] CLI::Validator between(double least, double most, const std::string& unit);

void add_instrument(CLI::App& app, std::string& tuning, int& capo);
void add_concert_pitch(CLI::App& app, double& a4_hz);
/// What decides which line is walked over the chart.
void add_line_wishes(CLI::App& command, LineOptions& o);

/// arguments_guitar.cpp
CLI::App* add_guitar(CLI::App& app, GuitarOptions& o);
/// arguments_walk.cpp
CLI::App* add_walk(CLI::App& app, WalkOptions& o);
CLI::App* add_calibrate(CLI::App& app, CalibrateOptions& o);

}  // namespace gripline
