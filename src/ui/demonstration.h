// About ten seconds of sound through the whole chain, told as text: for a start without a terminal or a guitar.
#pragma once

#include <iosfwd>

namespace gripline {

struct DemonstrationOptions {
    int strums = 6;          ///< 1 or more; about 1.7 s of sound each
    double a4_hz = 440.0;
};

/// The built-in player walks up the C dominant-seventh shells on strings 6-4-3 and makes two mistakes on purpose; listening chain, judge
/// and practice session are the ones of the practice screen, run as fast as they go. One line for each strum on `out`. Returns 0; 1 when a
/// strum went unanswered or was judged otherwise than it was played.
int run_demonstration(const DemonstrationOptions& options, std::ostream& out);

}  // namespace gripline
