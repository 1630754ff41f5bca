// Where the history lies and whose it holds, as JSON.
#pragma once

#include <string>
#include <vector>

#include "practice/history.h"

namespace gripline {

struct HistoryFacts {
    std::string file;
    bool there = false;
    std::int64_t bytes = 0;  ///< with its log
    std::vector<PlayerRow> players;
    std::vector<std::string> copies;  ///< that migrations made
};

/// One object in one line.
[[nodiscard]] std::string history_json(const HistoryFacts& facts);

}  // namespace gripline
