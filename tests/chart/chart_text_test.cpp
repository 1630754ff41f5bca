// Charts as musicians write them (common practice, no source).
#include "chart/chart_text.h"

#include <doctest/doctest.h>

using namespace gripline;

namespace {

Chart read(const std::string& text) {
    const auto chart = parse_chart(text);
    if (!chart) FAIL(chart.error().message);
    return *chart;
}

/// "C7@1+2 F7@3+2" for a bar.
std::string layout(const Bar& bar) {
    std::string out;
    for (const auto& chord : bar.chords)
        out += (out.empty() ? "" : " ") + chord.text() + "@" + std::to_string(chord.beat) + "+" + std::to_string(chord.beats);
    return out;
}

}  // namespace

TEST_CASE("headings, section letters, rows and comments are read") {
    const Chart chart = read("# first\nTitle: Song #2 | x\nKey: Bb\nMeter: 3/4\nTempo: 92.5\n\n[A]\n| Bb6 | F7 |  # to the dominant\nB: | Eb6 |\n# end\n");
    CHECK(chart.title == "Song #2 | x");
    CHECK(chart.key->text() == "Bb");
    CHECK(chart.meter == Meter{3, 4});
    CHECK(chart.tempo_bpm == 92.5);
    REQUIRE(chart.bars.size() == 3);
    CHECK(chart.bars[0].section == "A");
    CHECK(chart.bars[0].starts_row);
    CHECK(chart.bars[0].comments == std::vector<std::string>{"first", "to the dominant"});
    CHECK(chart.bars[1].section.empty());
    CHECK_FALSE(chart.bars[1].starts_row);
    CHECK(chart.bars[2].section == "B");
    CHECK(chart.comments == std::vector<std::string>{"end"});
}

TEST_CASE("chords of a bar share its counts, the first ones longer; slashes count") {
    struct Row {
        const char* bar;
        const char* layout;
    };
    const Row rows[] = {
        {"| C7 |", "C7@1+4"},
        {"| C7 F7 |", "C7@1+2 F7@3+2"},
        {"| C7 F7 G7 |", "C7@1+2 F7@3+1 G7@4+1"},
        {"| C7 F7 G7 A7 |", "C7@1+1 F7@2+1 G7@3+1 A7@4+1"},
        {"| C7 / / F7 |", "C7@1+3 F7@4+1"},
        {"| 3/4 C7 F7 |", "C7@1+2 F7@3+1"},
        {"| 5/4 C7 F7 |", "C7@1+3 F7@4+2"},
        {"| 6/8 C7 F7 |", "C7@1+3 F7@4+3"},
        {"| 2/2 C7 F7 |", "C7@1+2 F7@3+2"},
        {"| N.C. F#m7b5 |", "N.C.@1+2 F#m7b5@3+2"},
        {"C7/E Bb6/9 |", "C7/E@1+2 Bb6/9@3+2"},
    };
    for (const Row& row : rows) {
        CAPTURE(row.bar);
        CHECK(layout(read(row.bar).bars[0]) == row.layout);
    }
    CHECK(layout(read("| C7 | / / F7 / |").bars[1]) == "C7@1+2 F7@3+2");
}

TEST_CASE("% repeats a bar with its chords") {
    const Chart chart = read("| C7 F7 | % | % | G7 |");
    CHECK(layout(chart.bars[2]) == "C7@1+2 F7@3+2");
    CHECK(chart.bars[2].repeats_last);
    CHECK_FALSE(chart.bars[3].repeats_last);
}

TEST_CASE("a chord's scale is named in braces by the scale's chord") {
    const Chart chart = read("| G7{Dm6} C6 |");
    REQUIRE(chart.bars[0].chords[0].scale);
    CHECK(chart.bars[0].chords[0].scale->root.text() == "D");
    CHECK(chart.bars[0].chords[0].scale->family == Family::minor_sixth);
    CHECK_FALSE(chart.bars[0].chords[1].scale);
}

TEST_CASE("what is read is written back to the same chart") {
    const char* charts[] = {
        "| C7 |",
        "title: One # two\nkey: F# minor\nmeter: 5/4\ntempo: 133.3\n# a\n[Intro]\n|: F#m6 | % |1. C#7 :|2. C#7 / / / F#m6 |\n# b\n",
        "|: C | F :| x3 | G | Am |\n| Dm7 | G7 | x4\n| 3/4 C | % |\n4/4\n| N.C. | C7 / / N.C. |]",
        "|: C |1,2. G :|3. Am || F |",
        "A\n|C|F|\nB: |G7{Dm6} / / C|",
        "Cmaj7 A7 | Dm7 G7",
    };
    for (const char* text : charts) {
        CAPTURE(text);
        const Chart once = read(text);
        CAPTURE(chart_text(once));
        CHECK(read(chart_text(once)) == once);
    }
}

TEST_CASE("a chart in another key has every root, slash bass and chosen scale moved") {
    const Chart chart = read("key: F\n| F6 A7/C# | Bbm6{Bbm6} Gm7(b5) | N.C. | C7alt F6/9 |");
    const Chart moved = transposed(chart, *NoteName::parse("Eb"));
    CHECK(layout(moved.bars[0]) == "Eb6@1+2 G7/B@3+2");
    CHECK(layout(moved.bars[1]) == "Abm6@1+2 Fm7(b5)@3+2");
    CHECK(moved.bars[1].chords[0].scale->text() == "Abm6");
    CHECK(layout(moved.bars[2]) == "N.C.@1+4");
    CHECK(layout(moved.bars[3]) == "Bb7alt@1+2 Eb6/9@3+2");
    CHECK(moved.key->text() == "Eb");
    CHECK(transposed(moved, *NoteName::parse("F")) == chart);
    const Chart no_key = read("| C7 |");
    CHECK(transposed(no_key, *NoteName::parse("D")) == no_key);
}

TEST_CASE("the sign of common time is four quarters, and a section may bear a number") {
    CHECK(parse_chart("meter: C\n| F7 |")->meter == Meter{4, 4});
    CHECK(parse_chart("[1]\n| F7 |")->bars[0].section == "1");
}
