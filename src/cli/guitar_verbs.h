// What gripline guitar does beyond listing: the guided set-up, and a profile in words.
#pragma once

#include <iosfwd>

#include "cli/options.h"
#include "practice/guitar_profile.h"

namespace gripline {

int guitar_set_up(const GuitarOptions& options, std::ostream& out, std::ostream& err);
/// A table of the strings, the response, advice.
void show_guitar(const GuitarProfile& profile, std::ostream& out);

}  // namespace gripline
