// The answers of `mark`, one a row in the order of the list: a line of JSON or a row of a table, and at the end the sum.
#pragma once

#include <ostream>
#include <string>

#include "cli/options.h"
#include "cli/strum_table.h"

namespace gripline {

class MarkAnswers {
public:
    MarkAnswers(const MarkOptions& options, std::ostream& out);
    void give(const CaseRow& row, const CaseAnswer& answer);
    /// Says on `err` how many rows could not be answered and why the first could not; returns the exit status.
    int finish(std::ostream& err);

private:
    bool json_;
    std::ostream& out_;
    MarkTable table_;
    int rows_ = 0, right_ = 0, wrong_ = 0, unheard_ = 0, errors_ = 0;
    std::string first_error_;
};

}  // namespace gripline
