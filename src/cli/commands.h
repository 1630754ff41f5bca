// The commands: each takes its options, writes results to `out` and messages to `err`, and returns the exit status.
#pragma once

#include <cstdint>
#include <iosfwd>
#include <string>

#include "cli/options.h"

namespace gripline {

int practice(const PracticeOptions& options, std::ostream& out, std::ostream& err);
int hear(const HearOptions& options, std::ostream& out, std::ostream& err);
int mark(const MarkOptions& options, std::ostream& out, std::ostream& err);
int devices(const DevicesOptions& options, std::ostream& out, std::ostream& err);
int tune(const TuneOptions& options, std::ostream& out, std::ostream& err);
int guitar(const GuitarOptions& options, std::istream& in, std::ostream& out, std::ostream& err);
int grips(const GripsOptions& options, std::ostream& out, std::ostream& err);
int line(const LineOptions& options, std::ostream& out, std::ostream& err);
int history(const HistoryOptions& options, std::istream& in, std::ostream& out, std::ostream& err);
int progress(const ProgressOptions& options, std::ostream& out, std::ostream& err);
int class_page(const ClassOptions& options, std::ostream& out, std::ostream& err);
int quiz(const QuizOptions& options, std::ostream& out, std::ostream& err);
int convert(const ConvertOptions& options, std::ostream& out, std::ostream& err);
int walk(const WalkOptions& options, std::ostream& out, std::ostream& err);
int calibrate(const CalibrateOptions& options, std::ostream& out, std::ostream& err);

/// Tells an error on `err` the way every command does, and gives the exit status of bad input.
int refuse(std::ostream& err, const std::string& what);
/// What to say of a recording with samples that are no numbers: its strums can't be trusted.
std::string bad_samples_text(const std::string& path, std::uint64_t samples);

}  // namespace gripline
