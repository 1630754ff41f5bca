// Harte, Sandler, Abdallah & Gomez, "Symbolic representation of musical chords", ISMIR 2005, Table 1 (entered from memory).
#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "theory/chord_symbol.h"

using namespace gripline;

namespace {
std::vector<int> classes(const char* label) {
    const auto chord = parse_chord(label);
    REQUIRE_MESSAGE(chord.ok(), (chord.ok() ? "" : chord.error().message));
    std::vector<int> out;
    for (const PitchClass each : chord->pitch_classes()) out.push_back(each.value());
    return out;
}
using Classes = std::vector<int>;
}  // namespace

TEST_CASE("the shorthands of the 2005 table hold the paper's pitch classes, on C") {
    CHECK(classes("C:maj") == Classes{0, 4, 7});
    CHECK(classes("C:min") == Classes{0, 3, 7});
    CHECK(classes("C:dim") == Classes{0, 3, 6});
    CHECK(classes("C:aug") == Classes{0, 4, 8});
    CHECK(classes("C:maj7") == Classes{0, 4, 7, 11});
    CHECK(classes("C:min7") == Classes{0, 3, 7, 10});
    CHECK(classes("C:7") == Classes{0, 4, 7, 10});
    CHECK(classes("C:dim7") == Classes{0, 3, 6, 9});
    CHECK(classes("C:hdim7") == Classes{0, 3, 6, 10});
    CHECK(classes("C:minmaj7") == Classes{0, 3, 7, 11});
    CHECK(classes("C:maj6") == Classes{0, 4, 7, 9});
    CHECK(classes("C:min6") == Classes{0, 3, 7, 9});
    CHECK(classes("C:9") == Classes{0, 4, 7, 10, 2});
    CHECK(classes("C:maj9") == Classes{0, 4, 7, 11, 2});
    CHECK(classes("C:min9") == Classes{0, 3, 7, 10, 2});
    CHECK(classes("C:sus4") == Classes{0, 5, 7});
}

TEST_CASE("roots, degree lists, degrees left out and bass degrees of labels") {
    CHECK(classes("A") == Classes{9, 1, 4});
    CHECK(classes("Bb:7") == Classes{10, 2, 5, 8});
    CHECK(classes("F#:min") == Classes{6, 9, 1});
    CHECK(classes("Abb:maj") == Classes{7, 11, 2});
    CHECK(classes("C:(3,5,b7)") == Classes{0, 4, 7, 10});
    CHECK(classes("C:maj(9)") == Classes{0, 4, 7, 2});
    CHECK(classes("C:maj7(*5)") == Classes{0, 4, 11});
    CHECK(classes("C:min7(*5,11)") == Classes{0, 3, 10, 5});
    CHECK(parse_chord("C:maj/3")->lowest().text() == "E");
    CHECK(parse_chord("A:min/b3")->lowest().text() == "C");
    CHECK(parse_chord("C:7/b7")->lowest().text() == "Bb");
    CHECK(parse_chord("C/3")->lowest().text() == "E");
    CHECK(parse_chord("D:min7/4")->pitch_classes().back().value() == 7);  // a bass outside the chord joins it
}

TEST_CASE("labels come back as they were written") {
    for (const char* label : {"C:maj6", "A:min", "G:7", "B:dim7", "Bb:hdim7", "C:maj/3", "F#:minmaj7/b3", "C:9/9", "Eb:sus4"}) {
        CAPTURE(label);
        const std::string back = parse_chord(label)->harte_text();
        CHECK(back == (std::string(label) == "C:9/9" ? "C:9/2" : label));  // a bass degree is written within the octave
    }
}

TEST_CASE("a label that makes no sense says what and where") {
    for (const auto& [text, starts] : {std::pair<const char*, const char*>{"C:mja7", "unknown quality \"mja7\" in \"C:mja7\""}, {"C:", "unknown quality \"\""},
                                       {"C:maj7/H", "unknown bass \"H\""}, {"C:maj/E", "unknown bass \"E\""}, {"C:maj/", "unknown bass \"\""}, {"H:maj", "unknown root \"H\""},
                                       {":maj", "unknown root"}, {"C:(3,5", "brackets do not pair"}, {"C:()", "unknown degree \"\""}, {"C:(3,,5)", "unknown degree \"\""},
                                       {"C:maj(*7)", "*7 in"}, {"C7:maj", "unknown text \"7:maj\""}, {"N", "the label \"N\" means no chord"}, {"C:Maj", "unknown quality \"Maj\""}}) {
        CAPTURE(text);
        const auto chord = parse_chord(text);
        REQUIRE_FALSE(chord.ok());
        CHECK_MESSAGE(chord.error().message.starts_with(starts), chord.error().message);
    }
}
