// gripline mark --live: the rows of a list asked one after another on the live input.
#pragma once

#include <istream>
#include <optional>
#include <ostream>
#include <vector>

#include "cli/marking.h"
#include "cli/options.h"
#include "listen/listener.h"

namespace gripline {

/// Opens the input and marks all rows. Prompts go to `err`.
int mark_live(const MarkOptions& options, const std::vector<CaseRow>& rows, const JudgeConfig& judge, std::ostream& out, std::ostream& err);

struct LiveRow {
    double from_s = 0.0;      ///< strums that begin sooner after the row began don't count
    double patience_s = 20.0; ///< wall time until the row counts as unheard
    JudgeConfig judge{};
};

/// Waits for one strum and marks it. Times of the verdict are stream times of the listener. Unheard when the patience ends;
/// an error when the input was lost and did not come back, or ended.
[[nodiscard]] CaseAnswer mark_one_live(Listener& listener, const Target& target, const LiveRow& row);

}  // namespace gripline
