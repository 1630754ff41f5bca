// Which beats are played.
#include "lines/line_fixture.h"

using namespace gripline;
using namespace gripline::testing;

namespace {

std::string roles_with(const char* text, Steps steps, bool landing = false) {
    LineSettings settings;
    settings.steps = steps;
    settings.landing = landing;
    return roles(line(chart(text), settings));
}

}  // namespace

TEST_CASE("two and one steps a bar keep the approach on the last count before a change") {
    CHECK(roles_with("| C7 | % | F7 |", Steps::two) == "1.1c 1.3p 2.1c 2.4a 3.1c 3.3p");
    CHECK(roles_with("| C7 | F7 |", Steps::two) == "1.1c 1.4a 2.1c 2.3p");
    CHECK(roles_with("| C7 | % | F7 |", Steps::one) == "1.1c 2.1c 2.4a 3.1c");
    CHECK(roles_with("meter: 3/4\n| C7 | F7 |", Steps::two) == "1.1c 1.3a 2.1c 2.3p");
    CHECK(roles_with("meter: 5/4\n| C7 | F7 |", Steps::two) == "1.1c 1.5a 2.1c 2.4p");
}

TEST_CASE("landing leaves the chord and its approach") {
    CHECK(roles_with("| C7 | % | F7 Bb7 |", Steps::four, true) == "1.1c 2.4a 3.1c 3.2a 3.3c");
}

TEST_CASE("a chord of one count has no approach, a silence has no step, and nothing approaches after it or before it") {
    CHECK(roles_with("| C7 / / F7 | Bb7 |", Steps::four) == "1.1c 1.2p 1.3a 1.4c 2.1c 2.2p 2.3c 2.4p");
    CHECK(roles_with("| C7 N.C. | F7 |", Steps::four) == "1.1c 1.2p 2.1c 2.2p 2.3c 2.4p");
    CHECK(roles_with("| N.C. | N.C. F7 |", Steps::four) == "2.3c 2.4p");
}

TEST_CASE("repeats are played, with bars counted as they are heard") {
    CHECK(roles_with("|: C7 | F7 :|", Steps::one) == "1.1c 1.4a 2.1c 2.4a 3.1c 3.4a 4.1c");
}

TEST_CASE("a chord that lasts over bar lines is one chord, also through % and repeats") {
    CHECK(roles_with("|: C7 | % :|", Steps::two) == "1.1c 1.3p 2.1c 2.3p 3.1c 3.3p 4.1c 4.3p");
}
