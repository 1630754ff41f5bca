// The program from its arguments to its exit status.
#pragma once

#include <iosfwd>
#include <string>
#include <vector>

namespace gripline {

/// Runs gripline. arguments: without the program's name. Results go to `out`, messages to `err`. Returns the exit status.
int run_program(const std::vector<std::string>& arguments, std::ostream& out, std::ostream& err);

}  // namespace gripline
