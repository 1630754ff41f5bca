#include <doctest/doctest.h>

#include <sstream>
#include <string>

#include "ui/demonstration.h"

using namespace gripline;

TEST_CASE("The demonstration judges each of its strums as it was played") {
    std::ostringstream out;
    CHECK(run_demonstration({}, out) == 0);
    const std::string text = out.str();
    CHECK(text.find("right 4  wrong 2  unheard 0 (6 strums") != std::string::npos);
    CHECK(text.find("Wrong. String 3, one fret flat: A heard, Bb asked.") != std::string::npos);
    CHECK(text.find("Wrong. Open string 2 rings: B.") != std::string::npos);
}
