#include <doctest/doctest.h>

#include "fretboard/grip.h"

using namespace gripline;

TEST_CASE("3x23xx sounds G2 E3 Bb3 in standard tuning (common practice, no source)") {
    const auto grip = Grip::parse("3x23xx");
    REQUIRE(grip.ok());
    const auto notes = grip->notes(Tuning());
    REQUIRE(notes.size() == 3);
    CHECK(plain_name(notes[0].note) == "G2");
    CHECK(plain_name(notes[1].note) == "E3");
    CHECK(plain_name(notes[2].note) == "Bb3");
    CHECK(grip->text() == "3x23xx");
}
