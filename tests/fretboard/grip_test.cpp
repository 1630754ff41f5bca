#include <doctest/doctest.h>

#include <string>
#include <vector>

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
    CHECK(plain_name(grip->notes(Tuning(), 2)[0].note) == "A2");  // with a capo at fret 2
}

TEST_CASE("fret strings that are read, and how they are written back") {
    struct Row {
        const char* written;
        const char* back;
        int strings;
    };
    for (const Row& row : {Row{"3x23xx", "3x23xx", 6}, {"3X23XX", "3x23xx", 6}, {" 3x23xx\n", "3x23xx", 6}, {"3-x-2-3-x-x", "3x23xx", 6},
                           {"10-x-9-10-x-x", "10-x-9-10-x-x", 6}, {"000000", "000000", 6}, {"24-x-22-24-x-x", "24-x-22-24-x-x", 6}, {"xxxxxx", "xxxxxx", 6},
                           {"1x12xxx", "1x12xxx", 7}, {"12-x-12-13-x-x-x", "12-x-12-13-x-x-x", 7}, {"2010", "2010", 4}}) {
        CAPTURE(row.written);
        const auto grip = Grip::parse(row.written, row.strings);
        REQUIRE_MESSAGE(grip.ok(), (grip.ok() ? "" : grip.error().message));
        CHECK(grip->text() == row.back);
        CHECK(*Grip::parse(grip->text(), row.strings) == *grip);
    }
}

TEST_CASE("fret strings that make no sense are errors that name the place and the limit") {
    struct Row {
        const char* written;
        const char* says;
    };
    for (const Row& row : {Row{"", "the grip is empty"}, {"   ", "the grip is empty"}, {"3x23x", "has 5 places, 6 wanted"}, {"3x23xxx", "has 7 places, 6 wanted"},
                           {"10x910xx", "put dashes between"}, {"3 x 2 3 x x", "byte 2: only frets, x and dashes"}, {"3y23xx", "byte 2"}, {"3\u00D723xx", "byte 2"},
                           {"3\u20132\u20133", "byte 2"}, {"25-x-9-10-x-x", "place 1: \"25\" is no fret (0 to 24, or x)"}, {"3-x-2-3-x-", "place 6: \"\" is no fret"},
                           {"-3-x-2-3-x", "place 1"}, {"-----", "place 1"}, {"3-x-2-003-x-x", "place 4"}, {"03-x-2-3-x-x", "place 1"}, {"3-xx-2-3-x-x", "place 2"},
                           {"99999999999999999999-x-2-3-x-x", "place 1"}, {"3x2\x01xx", "byte 4"}}) {
        CAPTURE(row.written);
        const auto grip = Grip::parse(row.written);
        REQUIRE_FALSE(grip.ok());
        CHECK_MESSAGE(grip.error().message.find(row.says) != std::string::npos, grip.error().message);
    }
    CHECK_FALSE(Grip::parse("3x23xx", 0).ok());
    CHECK_FALSE(Grip::parse("3x23xx", -1).ok());
    CHECK_FALSE(Grip::parse("3x23xxxx", 8).ok());
    CHECK(Grip::parse(std::string(5000, '3')).error().message.size() < 200);
}

TEST_CASE("stretch leaves open strings out; sliding stops at the ends of the neck") {
    CHECK(Grip::parse("12-x-10-12-11-x")->stretch() == 2);
    CHECK(Grip::parse("1x010x")->stretch() == 0);
    CHECK(Grip::parse("000000")->stretch() == 0);
    CHECK(Grip::parse("3x23xx")->slid(-2)->text() == "1x01xx");
    CHECK_FALSE(Grip::parse("3x23xx")->slid(-3).ok());
    CHECK_FALSE(Grip::parse("24-x-22-24-x-x")->slid(1).ok());
}

TEST_CASE("tunings by name and by their notes (MIDI numbers of the open strings: common practice)") {
    const auto opens = [](const char* text) {
        const auto tuning = Tuning::parse(text);
        REQUIRE_MESSAGE(tuning.ok(), (tuning.ok() ? "" : tuning.error().message));
        std::vector<int> out;
        for (int string = tuning->strings(); string >= 1; --string) out.push_back(tuning->open(StringNumber(string)).number());
        return out;
    };
    using Notes = std::vector<int>;
    CHECK(opens("standard") == Notes{40, 45, 50, 55, 59, 64});
    CHECK(opens("Standard") == Notes{40, 45, 50, 55, 59, 64});
    CHECK(opens("E2 A2 D3 G3 B3 E4") == Notes{40, 45, 50, 55, 59, 64});
    CHECK(opens("semitone down") == Notes{39, 44, 49, 54, 58, 63});
    CHECK(opens("tone down") == Notes{38, 43, 48, 53, 57, 62});
    CHECK(opens("drop D") == Notes{38, 45, 50, 55, 59, 64});
    CHECK(opens("seven string B") == Notes{35, 40, 45, 50, 55, 59, 64});
    CHECK(opens("seven string A") == Notes{33, 40, 45, 50, 55, 59, 64});
    CHECK(opens("D2, A2, D3, F#3, A3, D4") == Notes{38, 45, 50, 54, 57, 62});
    CHECK(opens("E\u266D2 A\u266D2 D\u266D3 G\u266D3 B\u266D3 E\u266D4") == Notes{39, 44, 49, 54, 58, 63});
    for (const std::string& name : tuning_names()) CHECK(Tuning::parse(Tuning::parse(name)->text()) .ok());
    CHECK(*Tuning::parse(Tuning().text()) == Tuning());
}

TEST_CASE("tunings that make no sense are errors that name the note and the limit") {
    struct Row {
        const char* text;
        const char* says;
    };
    for (const Row& row : {Row{"", "the tuning is empty"}, {"E2 A2 D3", "has 3 notes; 4 to 7"}, {"E2 A2 D3 G3 B3 E4 A4 D5", "has 8 notes"}, {"E2 A2 H3 G3 B3 E4", "note 3: unknown \"H3\""},
                           {"E A D G B E", "note 1: unknown \"E\""}, {"E4 B3 G3 D3 A2 E2", "note 2: B3 is not above"}, {"E2 E2 D3 G3 B3 E4", "note 2"}, {"B0 A2 D3 G3 B3 E4", "note 1: B0 is out of range"},
                           {"E2 A2 D3 G3 B3 F6", "note 6: F6 is out of range"}, {"open air", "note 1: unknown \"open\""}}) {
        CAPTURE(row.text);
        const auto tuning = Tuning::parse(row.text);
        REQUIRE_FALSE(tuning.ok());
        CHECK_MESSAGE(tuning.error().message.find(row.says) != std::string::npos, tuning.error().message);
    }
}
