// One run of the program, as a test sees it.
#pragma once

#include <sstream>
#include <string>
#include <vector>

#include "cli/program.h"

namespace gripline::test {

struct Run {
    int status;
    std::string out, err;
};

/// Runs `gripline WORDS...` with both outputs kept.
inline Run run(const std::vector<std::string>& words) {
    std::ostringstream out, err;
    const int status = run_program(words, out, err);
    return {status, out.str(), err.str()};
}

}  // namespace gripline::test
