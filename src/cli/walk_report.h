// A walk as text for the eye: a row for each beat as it is settled, the whole below.
#pragma once

#include <ostream>

#include "cli/text_table.h"
#include "practice/walk_summary.h"

namespace gripline {

class WalkTable {
public:
    explicit WalkTable(std::ostream& out);
    void row(const WalkBeat& beat, const BeatResult& result);

private:
    TextTable table_;
};

/// Counts, faults by kind, time, the worst changes and the suggestion.
void print_walk_summary(const WalkSummary& summary, std::ostream& out);

}  // namespace gripline
