#include <doctest/doctest.h>

#include <cmath>
#include <string>
#include <vector>

#include "theory/spelling.h"

using namespace gripline;

namespace {
NoteName note(const char* text) { return *NoteName::parse(text); }
}  // namespace

TEST_CASE("B#3 is MIDI 60, Cb4 is MIDI 59: the octave counts from the letter's C (scientific pitch notation, from memory)") {
    CHECK(SpelledNote::parse("B#3")->midi().number() == 60);
    CHECK(SpelledNote::parse("C4")->midi().number() == 60);
    CHECK(SpelledNote::parse("Cb4")->midi().number() == 59);
    CHECK(SpelledNote::parse("E2")->midi().number() == 40);
    CHECK(SpelledNote::parse("A4")->midi().number() == 69);
    CHECK(SpelledNote::parse("C-1")->midi().number() == 0);
    CHECK(SpelledNote::parse("G9")->midi().number() == 127);
    CHECK(SpelledNote::parse("B\u266D3")->text() == "Bb3");
    CHECK(spelled(MidiNote(60), note("B#")).text() == "B#3");
    CHECK(spelled(MidiNote(59), note("Cb")).text() == "Cb4");
}

TEST_CASE("a note that makes no sense is an error") {
    for (const char* text : {"", "H", "c", "Cbbb", "C###", "Cb#", "C4", "Ｃ", " C", "C b"}) {
        CAPTURE(text);
        CHECK_FALSE(NoteName::parse(text).ok());
    }
    for (const char* text : {"", "C", "4", "C10", "G#9", "Cb-1", "C-2", "C4 ", "C4x", "H3"}) {
        CAPTURE(text);
        CHECK_FALSE(SpelledNote::parse(text).ok());
    }
}

TEST_CASE("accidentals: ASCII and Unicode, double ones too") {
    CHECK(note("F\u266F") == note("F#"));
    CHECK(note("B\U0001D12B") == note("Bbb"));
    CHECK(note("F\U0001D12A") == note("F##"));
    CHECK(note("Fx") == note("F##"));
    CHECK(note("C\u266E") == note("C"));
    CHECK(note("Bb").text(Accidentals::unicode) == "B\u266D");
    CHECK(note("Bbb").readable().text() == "A");
    CHECK(note("Fx").readable().text() == "G");
    CHECK(note("Cb").readable().text() == "Cb");
    CHECK(note("Cb").as_root().text() == "B");
}

TEST_CASE("an approach from above is spelled flat, from below sharp or natural (common practice, no source)") {
    struct Row {
        const char *target, *below, *above;
    };
    for (const Row& row : {Row{"F", "E", "Gb"}, {"G", "F#", "Ab"}, {"C", "B", "Db"}, {"Db", "C", "D"}, {"D", "C#", "Eb"}, {"Eb", "D", "E"},
                           {"E", "D#", "F"}, {"Gb", "F", "G"}, {"Ab", "G", "A"}, {"A", "G#", "Bb"}, {"Bb", "A", "B"}, {"B", "A#", "C"}}) {
        CAPTURE(row.target);
        CHECK(approach_to(note(row.target), From::below).text() == row.below);
        CHECK(approach_to(note(row.target), From::above).text() == row.above);
    }
}

TEST_CASE("degrees and interval names (handbook of intervals, from memory)") {
    struct Row {
        const char* degree;
        int semitones;
        const char* name;
    };
    for (const Row& row : {Row{"1", 0, "perfect unison"}, {"b2", 1, "minor second"}, {"2", 2, "major second"}, {"b3", 3, "minor third"},
                           {"3", 4, "major third"}, {"4", 5, "perfect fourth"}, {"#4", 6, "augmented fourth"}, {"b5", 6, "diminished fifth"},
                           {"5", 7, "perfect fifth"}, {"#5", 8, "augmented fifth"}, {"b6", 8, "minor sixth"}, {"6", 9, "major sixth"},
                           {"bb7", 9, "diminished seventh"}, {"b7", 10, "minor seventh"}, {"7", 11, "major seventh"}, {"8", 12, "perfect octave"},
                           {"b9", 13, "minor ninth"}, {"#9", 15, "augmented ninth"}, {"#11", 18, "augmented eleventh"}, {"13", 21, "major thirteenth"}}) {
        CAPTURE(row.degree);
        const auto interval = Interval::parse(row.degree);
        REQUIRE(interval.ok());
        CHECK(interval->semitones() == row.semitones);
        CHECK(interval->name() == row.name);
        CHECK(interval->degree_text() == row.degree);
    }
    for (const char* text : {"", "0", "16", "99", "b", "bbb7", "3b", "b#3", "x", "3 ", "-3"}) {
        CAPTURE(text);
        CHECK_FALSE(Interval::parse(text).ok());
    }
    CHECK(note("Db").up(*Interval::parse("b6")).text() == "Bbb");
    CHECK(note("F#").up(*Interval::parse("7")).text() == "E#");
}

TEST_CASE("frequencies: A4 = 440 Hz (ISO 16:1975), the others of equal temperament to the handbook's two decimals (from memory)") {
    struct Row {
        const char* note;
        double hz;
    };
    for (const Row& row : {Row{"A4", 440.0}, {"A0", 27.5}, {"C4", 261.63}, {"E2", 82.41}, {"A2", 110.0}, {"D3", 146.83}, {"G3", 196.0},
                           {"B3", 246.94}, {"E4", 329.63}, {"E6", 1318.51}, {"C8", 4186.01}}) {
        CAPTURE(row.note);
        CHECK(std::abs(frequency_hz(SpelledNote::parse(row.note)->midi()) - row.hz) <= 0.005);
    }
    CHECK(frequency_hz(MidiNote(69), 415.0) == doctest::Approx(415.0));
    CHECK(frequency_hz(MidiNote(57), 466.0) == doctest::Approx(233.0));
}
