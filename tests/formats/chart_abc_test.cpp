// Charts written to ABC and read back; tunes as people write them (ABC standard 2.1, section numbers beside the checks); tunes that are refused.
#include <doctest/doctest.h>

#include "formats/abc_reader.h"
#include "formats/chart_abc.h"
#include "formats/round_trip.h"
#include "formats/import_words.h"

using namespace gripline;

namespace {

std::string read(const std::string& text) { return test::import_words(read_abc(text)); }
std::string tune(const std::string& music, const std::string& head = "M:4/4\nL:1/4\n") { return "X:1\nT:x\n" + head + "K:C\n" + music + "\n"; }

}  // namespace

TEST_CASE("chart to ABC and back is the same chart, for every chart of the library in twelve keys") {
    test::with_every_chart([](const Chart& chart) {
        const auto back = read_abc(chart_abc(chart));
        if (!back) FAIL(back.error().message);
        CHECK(chart_text(back->chart) == chart_text(chart));
        CHECK(back->chart == chart);
        CHECK(back->remarks.empty());
    });
}

TEST_CASE("chord symbols fall where the notes put them") {
    CHECK(read(tune("\"C\"CDEF|\"Dm7\"D2\"G7\"G2|")) == "| C | Dm7 G7 |\n");
    CHECK(read(tune("\"C\"C3\"G7\"D|", "M:4/4\nL:1/4\n")) == "| C / / G7 |\n");
    CHECK(read(tune("\"C\"C4/2 D//E//F/ \"F\"G|\"C\"c4|")) == "| C / / F | C |\n");                       // 4.3 lengths, 4.11 chord symbols
    CHECK(read(tune("\"C\"A>B \"F\"A<B|\"C\"c4|", "M:2/2\nL:1/4\n")) == "| C F | C |\n");             // 4.4 broken rhythm
    CHECK(read(tune("\"C\"(3ABc \"F\"d2|\"C\"c4|")) == "| C F | C |\n");
    CHECK(read(tune("\"C\"(3A/B/c/ d \"F\"(3:2:3A/B/c/ d|\"C\"c4|")) == "| C F | C |\n");                // 4.13 tuplets
    CHECK(read(tune("\"C\"[CEG]2 \"F\"[F/A/]4|\"C\"c4|")) == "| C F | C |\n");                            // 4.17 chords of notes
    CHECK(read(tune("\"C\"{gag}!trill!~c2 (\"F\"^f-f)|\"C\"_b'=b, c2|")) == "| C F | C |\n");            // grace notes, decorations, slurs, ties
    CHECK(read(tune("\"C\"c4|Z2|\"F\"c4|")) == "| C | C | C | F |\n");                                    // 4.5 bars of rest
    CHECK(read(tune("\"C\"c2 & \"Am\"e2 \"F\"f2|\"G\"g4|")) == "| C | G |\n");                           // 7.4 overlay
    CHECK(read(tune("\"^loud\"\"C\"c4|\"_soft\"c4|")) == "| C | C |\n");                                  // 4.19 annotations
    CHECK(read(tune("\"C\"c4|[M:3/4]\"F\"f3|[M:C|]\"G\"g4|")) == "| C | 3/4 F | 2/2 G |\n");
    CHECK(read(tune("\"G(Em)\"c4|\"C\u266fm7\u266d5\"c4|")) == "| G | C\u266fm7\u266d5 |\n");
    CHECK(read("X:1\nM:6/8\nK:Am\n\"Am\"A3 \"E7\"e3|\"Am\"a6|\n") == "| Am E7 | Am |\n");              // 3.1.7: L is an eighth
}

TEST_CASE("repeats, endings, rows, parts, voices") {
    CHECK(read(tune("|:\"C\"c4|1\"F\"f4:|2\"G\"g4||\n\"C\"c4|]")) == "|: C |1. F :|2. G |\n| C |\n");
    CHECK(read(tune("\"C\"c4|[1,2\"F\"f4:|[3\"G\"g4|]")) == "| C |1,2. F :|3. G |\n");                  // 4.10
    CHECK(read(tune("|:\"C\"c4|[1-2\"F\"f4:|[3\"G\"g4|]")) == "|: C |1,2. F :|3. G |\n");
    CHECK(read(tune("|:\"C\"c4::\"F\"f4:|")) == "|: C :|: F :|\n");                                       // 4.8
    CHECK(read(tune("|::\"C\"c4::|\"F\"f4|")) == "|: C :| x3 | F |\n");
    CHECK(read(tune("P:A\n\"C\"c4|\\\n\"F\"f4|\nP:B\n\"G\"g4|")) == "[A]\n| C | F |\n[B]\n| G |\n");
    CHECK(read(tune("V:1\nc4|c4|\nV:2\n\"C\"c4|\"F\"c4|")) == "| C | F |\n");
    CHECK(read(tune("\"C\"c4|\"F\"c4|", "M:4/4\nL:1/4\nV:1 clef=treble\nV:2 clef=bass\n")) == "| C | F |\n");
    CHECK(read(tune("[V:1]\"C\"c4|\n[V:2]\"Am\"c4|\n[V:1]\"F\"c4|")) == "| C |\n| F |\n");
    CHECK(read("X:1\nT:first\nM:4/4\nK:C\n\"C\"z8|\n\nX:2\nT:second\nM:4/4\nK:C\n\"F\"z8|\n") == "| C |\n");
}

TEST_CASE("what a chart can't hold is left out with a remark") {
    CHECK(read(tune("G|\"C\"c4|\"F\"f3 G:|")) == "| C | F :|\n(bar 1: a pickup bar is left out)\n");
    CHECK(read(tune("G|:\"C\"c4|\"F\"f3:|:G|\"C\"c4|\"F\"f3:|")) == "|: C | F :|: C | F :|\n(bar 1: a pickup bar is left out)\n(bar 3: a pickup bar is left out)\n");
    CHECK(read(tune("\"Swing!\"\"C\"c4|")) == "| C |\n(bar 1: the text \"Swing!\" is no chord and is left out)\n");
    CHECK(read(tune("\"C\"c4|\"D.C. al Fine\"c4|")) == "| C | C |\n(bar 2: D.C. and D.S. are left out; write such repeats out)\n");
    CHECK(read(tune("\"C\"c4|[K:G]c4|")) == "| C | C |\n(bar 1: a change of key is left out; a chart has one key)\n");
    CHECK(read("X:1\nM:4/4\nP:AAB\nQ:1/4=20\nK:D dorian\n\"Dm7\"z8|\n") ==
          "| Dm7 |\n(the order of parts, P:AAB, is left out; write the parts out)\n(the key D dorian is read as Dm)\n(the tempo is not within 40 to 300 counts a minute and was moved there)\n");
}

TEST_CASE("head of a tune: key, tempo, title with escapes") {
    const auto head = [](const std::string& lines) { return *read_abc("X:1\n" + lines + "\n\"C\"z8|\n"); };
    CHECK(head("T:Half \\% full\nM:C\nK:Bb").chart.title == "Half % full");
    CHECK(head("M:C|\nK:F#m").chart.key->text() == "F#m");
    CHECK(head("M:C|\nK:Eb minor").chart.key->text() == "Ebm");
    CHECK(head("M:C\nK:G clef=bass").chart.key->text() == "G");
    CHECK_FALSE(head("M:C\nK:none").chart.key);
    CHECK_FALSE(head("M:C\nK:HP").chart.key);
    CHECK(head("M:C\nQ:\"Lively\" 1/2=80\nK:C").chart.tempo_bpm == 160.0);
    CHECK(head("M:C\nL:1/8\nQ:1/4=100 % fast\nK:C").chart.tempo_bpm == 100.0);
    CHECK(head("M:C\nL:1/4\nQ:90\nK:C").chart.tempo_bpm == 90.0);
    CHECK(read_abc("X:1\nM:6/8\nQ:3/8=60\nK:C\n\"C\"z6|\n")->chart.tempo_bpm == 180.0);
    CHECK(head("M:C\nT:caf\xE9\nK:C").chart.title == "caf\uFFFD");  // old files are Latin-1; what is no UTF-8 can't garble a terminal
}

TEST_CASE("tunes that can't be read are refused with line, bar, beat, value and limit") {
    const std::pair<std::string, std::string> rows[] = {
        {"", "the file is empty"},
        {"hello\nworld\n", "no tune was found; a tune begins with X:"},
        {std::string(5U << 20U, 'c'), "the file is 5242880 bytes long, at most 4194304 are read"},
        {"X:1\nT:x\nK:C\n\"C\"z8|\n", "line 3, a tune without a meter; write one above K:"},
        {tune("\"C\"z4|", "M:none\n"), "line 3, a tune without a meter"},
        {tune("\"C\"z4|", "M:9/8\n"), "line 3, unknown meter \"9/8\"; meters are 4/4, 3/4, 2/2, 5/4 and 6/8"},
        {tune("\"C\"z4|", "M:4/4\nL:1/0\n"), "line 4, unknown length \"1/0\""},
        {tune("\"C\"z4|", "M:4/4\nL:9999999/1\n"), "line 4, unknown length \"9999999/1\""},
        {tune("\"C\"z4|", "M:4/4\nQ:1/4=fast\n"), "line 5, unknown tempo \"1/4=fast\"; a tempo is written as 1/4=120"},
        {"X:1\nM:4/4\nK:H\n\"C\"z8|", "line 3, unknown key \"H\"; a key is written as Bb, F#m"},
        {"X:1\nM:4/4\nwhat is this\nK:C\n\"C\"z8|", "line 3, \"what is this\" stands among the fields above K:"},
        {tune("c4|c4|"), "no chord symbols were found"},
        {tune("\"C\"z4|\"Cmja7\"z4|"), "line 6, bar 2, beat 1: unknown quality \"mja7\" in \"Cmja7\""},
        {tune("\"C\"z4|z2\"Fmin99\"z2|"), "line 6, bar 2, beat 3: unknown quality"},
        {tune("\"C\"z99999|"), "line 6, bar 1, beat 1: a number above 9999"},
        {tune("\"C\"z//////////|"), "line 6, bar 1, beat 1: more than 8 slashes"},
        {tune("\"C\"z4|\"F\"z4 z4 z4|"), "line 6, bar 2, beat 13: the bar is far longer than its 4 counts (4/4); a bar line is missing"},
        {tune("\"C\"z4 \"F\"z4|"), "line 6, bar 1, beat 5: a chord behind the end of its bar of 4 counts (4/4)"},
        {tune("\"C z4|"), "line 6, quotes that never close"},
        {tune("\"C\"[CEG z4|"), "line 6, bar 1, beat 1: a bracket that never closes"},
        {tune("\"C\"{gag z4|"), "line 6, bar 1, beat 1: grace notes that never close"},
        {tune("\"C\"(1z4|"), "line 6, bar 1, beat 1: a tuplet of 1; 2 to 9 notes are read"},
        {tune("\"C\"z4|[12\"F\"z4:|[2\"G\"z4|"), "line 6, behind bar 1: ending \"12\"; endings 1 to 9 are read"},
        {tune("|:\"C\"z4|\"F\"z4|"), "bar 1: the repeat that opens here never closes"},
        {tune("\"C\"z4|Z9999|Z9999|"), "line 6, a chart has at most 16384 bars"},
    };
    for (const auto& [text, message] : rows) {
        CAPTURE(message);
        const std::string said = read(text);
        CHECK_MESSAGE(said.starts_with(message), said);
    }
}
