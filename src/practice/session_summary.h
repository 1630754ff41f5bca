// How a session went, in five lines.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "practice/attempt.h"

namespace gripline {

class SessionSummary {
public:
    /// An attempt of the session, in its order.
    void add(const Attempt& attempt);
    /// One of the warm-up: its right answers are told of, and nothing else is made of it.
    void add_warm_up(const Attempt& attempt);
    /// Always five lines. played_s: how long the session took.
    [[nodiscard]] std::array<std::string, 5> lines(double played_s) const;

private:
    std::vector<Attempt> attempts_;
    long warmed_up_ = 0;
};

}  // namespace gripline
