// What `gripline quiz` can do, one function a verb. Each takes its options and returns the exit status.
#pragma once

#include <iosfwd>

#include "cli/options.h"

namespace gripline {

int quiz_check(const QuizOptions& options, std::ostream& out, std::ostream& err);
/// Asks on `out`, reads answers from `in`, writes the file.
int quiz_new(const QuizOptions& options, std::istream& in, std::ostream& out, std::ostream& err);
int quiz_take(const QuizOptions& options, std::ostream& out, std::ostream& err);
int quiz_verify(const QuizOptions& options, std::ostream& out, std::ostream& err);
int quiz_overrule(const QuizOptions& options, std::ostream& out, std::ostream& err);
int quiz_sheet(const QuizOptions& options, std::ostream& out, std::ostream& err);

}  // namespace gripline
