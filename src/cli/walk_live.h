// gripline walk without a take: the walk screen, or, without a terminal, a walk as lines.
#pragma once

#include <iosfwd>

#include "cli/options.h"

namespace gripline {

int walk_live(const WalkOptions& options, std::ostream& out, std::ostream& err);

}  // namespace gripline
