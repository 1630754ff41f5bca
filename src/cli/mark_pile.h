// gripline mark FOLDER: a pile of takes against a quiz, or a chart at a tempo.
#pragma once

#include <iosfwd>

#include "cli/options.h"

namespace gripline {

int mark_pile(const MarkOptions& options, std::ostream& out, std::ostream& err);

}  // namespace gripline
