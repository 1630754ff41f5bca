// Chart symbols: how charts write them is common practice, no source; the degrees' sources stand in the table of qualities.
#include <doctest/doctest.h>

#include <string>

#include "theory/chord_symbol.h"
#include "theory/chord_words.h"

using namespace gripline;

namespace {
std::string notes_of(const ChordSymbol& chord) {
    std::string out;
    for (const auto& each : chord.notes()) out += (out.empty() ? "" : " ") + each.text();
    return out;
}
struct Row {
    const char *written, *means, *notes;
};
}  // namespace

TEST_CASE("chord symbols as charts write them") {
    for (const Row& row : {
             Row{"C", "C", "C E G"}, {"C6", "C6", "C E G A"}, {"Cm6", "Cm6", "C Eb G A"}, {"C-6", "Cm6", "C Eb G A"}, {"C7", "C7", "C E G Bb"},
             {"C9", "C9", "C E G Bb D"}, {"C13", "C13", "C E G Bb D A"}, {"Cmaj7", "Cmaj7", "C E G B"}, {"CM7", "Cmaj7", "C E G B"},
             {"C^7", "Cmaj7", "C E G B"}, {"C\u03947", "Cmaj7", "C E G B"}, {"C\u0394", "Cmaj7", "C E G B"}, {"C\u25B37", "Cmaj7", "C E G B"},
             {"Cm7", "Cm7", "C Eb G Bb"}, {"C-7", "Cm7", "C Eb G Bb"}, {"C\u22127", "Cm7", "C Eb G Bb"}, {"Cmin7", "Cm7", "C Eb G Bb"},
             {"Cm7b5", "Cm7b5", "C Eb Gb Bb"}, {"C-7b5", "Cm7b5", "C Eb Gb Bb"}, {"Cm7(b5)", "Cm7b5", "C Eb Gb Bb"}, {"C\u00F8", "Cm7b5", "C Eb Gb Bb"},
             {"C\u00F87", "Cm7b5", "C Eb Gb Bb"}, {"Cdim7", "Cdim7", "C Eb Gb Bbb"}, {"Co7", "Cdim7", "C Eb Gb Bbb"}, {"C\u00B07", "Cdim7", "C Eb Gb Bbb"},
             {"C7b5", "C7b5", "C E Gb Bb"}, {"C7#11", "C7#11", "C E G Bb F#"}, {"C7\u266F11", "C7#11", "C E G Bb F#"}, {"C7+", "C7#5", "C E G# Bb"},
             {"C7alt", "C7alt", "C E Gb G# Bb Db D#"}, {"Calt", "C7alt", "C E Gb G# Bb Db D#"}, {"Cm(maj7)", "Cm(maj7)", "C Eb G B"},
             {"CmM7", "Cm(maj7)", "C Eb G B"}, {"C-\u0394", "Cm(maj7)", "C Eb G B"}, {"C6/9", "C6/9", "C E G A D"}, {"C69", "C6/9", "C E G A D"},
             {"C7-9", "C7b9", "C E G Bb Db"}, {"C7(#9)", "C7#9", "C E G Bb D#"}, {"C13b9", "C13b9", "C E G Bb Db A"}, {"C9sus4", "C9sus4", "C F G Bb D"},
             {"Cadd9", "Cadd9", "C E G D"}, {"C7(b9,#11)", "C7(b9,#11)", "C E G Bb Db F#"}, {"B\u266D7", "Bb7", "Bb D F Ab"},
             {"F\u266Fm7\u266D5", "F#m7b5", "F# A C E"}, {"Bb5", "Bb5", "Bb F"}, {"Cb7", "Cb7", "Cb Eb Gb Bbb"}, {" G7 ", "G7", "G B D F"}}) {
        CAPTURE(row.written);
        const auto chord = parse_chord(row.written);
        REQUIRE_MESSAGE(chord.ok(), (chord.ok() ? "" : chord.error().message));
        CHECK(chord->chart_text() == row.means);
        CHECK(notes_of(*chord) == row.notes);
    }
}

TEST_CASE("a slash bass is a note; the slash of 6/9 is none") {
    CHECK(parse_chord("C/E")->lowest().text() == "E");
    CHECK(parse_chord("Dm7/G")->lowest().text() == "G");
    CHECK(parse_chord("Dm7/G")->pitch_classes().size() == 5);
    CHECK(parse_chord("C/B\u266D")->lowest().text() == "Bb");
    CHECK(parse_chord("C6/9/E")->lowest().text() == "E");
    CHECK_FALSE(parse_chord("C6/9")->bass);
    CHECK_FALSE(parse_chord("C/C")->bass);
}

TEST_CASE("every suffix of the table and every other spelling is read as its row") {
    for (const ChordQuality& quality : chord_qualities()) {
        CAPTURE(std::string(quality.suffix));
        const auto chord = parse_chord("C" + std::string(quality.suffix));
        REQUIRE(chord.ok());
        CHECK(chord->quality == &quality);
        CHECK_FALSE(quality.source.empty());
    }
    for (const ChordSpelling& spelling : chord_spellings()) {
        CAPTURE(std::string(spelling.written));
        REQUIRE(quality_by_suffix(spelling.suffix) != nullptr);
        const auto chord = parse_chord("C" + std::string(spelling.written));
        REQUIRE(chord.ok());
        CHECK(chord->quality == quality_by_suffix(spelling.suffix));
    }
}

TEST_CASE("a chord symbol that makes no sense says what and where") {
    for (const auto& [text, starts] : {std::pair<const char*, const char*>{"Cmja7", "unknown quality \"mja7\" in \"Cmja7\""},
                                       {"C7b6", "unknown quality \"7b6\" in \"C7b6\""}, {"C77", "unknown quality \"77\""}, {"Cm7b", "unknown quality \"m7b\""},
                                       {"C maj7", "unknown quality"}, {"H7", "unknown root \"H\" in \"H7\""}, {"c7", "unknown root \"c\""}, {"7", "unknown root"},
                                       {"Cbbb7", "unknown root"}, {"C/H", "unknown bass \"H\" in \"C/H\""}, {"C/", "unknown bass \"\""}, {"C7(b9", "brackets do not pair"},
                                       {"C7)b9(", "brackets do not pair"}, {"C((b9))", "brackets do not pair"}, {"", "the chord symbol is empty"}, {"   ", "the chord symbol is empty"},
                                       {"C\x01", "unknown quality \"?\""}, {"\xff\xfe", "unknown root"}}) {
        CAPTURE(text);
        const auto chord = parse_chord(text);
        REQUIRE_FALSE(chord.ok());
        CHECK_MESSAGE(chord.error().message.starts_with(starts), chord.error().message);
    }
    const auto huge = parse_chord("C" + std::string(1000, '7'));
    REQUIRE_FALSE(huge.ok());
    CHECK(huge.error().message.size() < 200);
}

TEST_CASE("Signs of charts become plain letters, and plain symbols stay as they are written") {
    for (const auto& [written, plain] : {std::pair<const char*, const char*>{"C\u0394", "Cmaj7"}, {"C\u03947", "Cmaj7"}, {"F\u266Fm7\u266D5", "F#m7b5"}, {"F\u266F\u00F8", "F#m7b5"}, {"B\u266D7", "Bb7"},
                                         {"C\u00B07", "Cdim7"}, {"C^7", "Cmaj7"}, {"C\u03947/E\u266D", "Cmaj7/Eb"}, {"C-7", "C-7"}, {"C7(b9)", "C7(b9)"}, {"N.C.", "N.C."}, {"C\u0394(no3)", "Cmaj7(no3)"}}) {
        CAPTURE(written);
        CHECK(plain_chord_text(written) == plain);
    }
}

TEST_CASE("A symbol on another root keeps its quality as written and loses its slash bass") {
    for (const auto& [written, moved] : {std::pair<const char*, const char*>{"Cm7", "Bm7"}, {"C-7/Bb", "B-7"}, {"Eb6/9", "B6/9"}, {"Eb6/9/G", "B6/9"}, {"F#7alt", "B7alt"}, {"C/C", "B"}}) {
        CAPTURE(written);
        CHECK(text_on(*parse_chart_symbol(written), NoteName(6, 0)) == moved);
    }
}

TEST_CASE("A bass is spelled by the chord's own letters") {
    struct Row {
        const char* chord;
        int note;
        const char* name;
    };
    for (const auto& [chord, note, name] : {Row{"Gb7", 4, "Fb"}, {"Dbm7", 11, "Cb"}, {"Dbm7", 4, "Fb"}, {"Abm7", 3, "Eb"}, {"G#m7", 3, "D#"}, {"Cb7", 9, "A"}, {"C7b9", 4, "E"},
                                            {"C7b9", 8, "Ab"}, {"D7", 6, "F#"}, {"Cm7", 9, "A"}, {"Ddim7", 11, "B"}, {"F#dim7", 0, "C"}, {"E6", 1, "C#"}}) {
        CAPTURE(chord);
        CAPTURE(note);
        CHECK(spelled_bass(*parse_chart_symbol(chord), PitchClass(note)).text() == name);
    }
}
