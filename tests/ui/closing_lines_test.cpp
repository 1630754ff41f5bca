#include <doctest/doctest.h>

#include <sstream>

#include "ui/closing_lines.h"

using namespace gripline;

namespace {

std::string written(const std::vector<std::string>& lines, std::optional<int> columns) {
    std::ostringstream out;
    write_closing_lines(lines, columns, out);
    return out.str();
}

}  // namespace

TEST_CASE("What is said at the end is broken between words at the terminal's width, and left whole for a file") {
    const std::string long_one = "Rest your hands now and then; at pain stop. A teacher or a clinician knows better than a program.";
    CHECK(written({long_one, "Short."}, 80) == "Rest your hands now and then; at pain stop. A teacher or a clinician knows\nbetter than a program.\nShort.\n");
    CHECK(written({long_one, "Short."}, std::nullopt) == long_one + "\nShort.\n");
    std::istringstream narrow(written({long_one}, 17));
    for (std::string line; std::getline(narrow, line);) CHECK(line.size() <= 17);
}
