// Charts written to MusicXML and read back; scores as other programs write them (MusicXML 4.0, W3C Music Notation Community Group: element names and
// meanings as in its reference); scores that are refused, each with its message.
#include <doctest/doctest.h>

#include "formats/abc_reader.h"
#include "formats/chart_music_xml.h"
#include "formats/line_abc.h"
#include "formats/music_xml.h"
#include "formats/music_xml_reader.h"
#include "formats/round_trip.h"
#include "formats/xml.h"
#include "formats/import_words.h"
#include "lines/walk_builder.h"

using namespace gripline;

namespace {

/// A score of one part whose measures are given.
std::string score(const std::string& measures) {
    return "<?xml version=\"1.0\"?><score-partwise version=\"4.0\"><part-list><score-part id=\"P1\"><part-name>x</part-name></score-part></part-list><part id=\"P1\">" + measures + "</part></score-partwise>";
}
std::string chord(const std::string& root, const std::string& kind, const std::string& more = "") {
    return "<harmony><root><root-step>" + root + "</root-step></root><kind>" + kind + "</kind>" + more + "</harmony>";
}
std::string rest(int duration) { return "<note><rest/><duration>" + std::to_string(duration) + "</duration></note>"; }
const std::string kHead = "<attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>";
std::string bar(const std::string& inside, const std::string& number = "1") { return "<measure number=\"" + number + "\">" + inside + "</measure>"; }

std::string read(const std::string& bytes) { return test::import_words(read_music_xml(bytes)); }

}  // namespace

TEST_CASE("chart text to MusicXML and back is the same chart, for every chart of the library in twelve keys") {
    test::with_every_chart([](const Chart& chart) {
        const auto back = read_music_xml(chart_music_xml(chart));
        if (!back) FAIL(back.error().message);
        CHECK(chart_text(back->chart) == chart_text(chart));
        CHECK(back->chart == chart);
        CHECK(back->remarks.empty());
    });
}

TEST_CASE("a line written as MusicXML or ABC holds its chart: the chord on every count, repeats written out") {
    test::with_every_chart([](const Chart& chart) {
        const Line line = *build_line(chart, {});
        const auto xml = read_music_xml(line_music_xml(chart, line));
        const auto abc = read_abc(line_abc(chart, line));
        if (!xml || !abc) FAIL((!xml ? xml.error() : abc.error()).message);
        CHECK(test::chord_of_count(xml->chart) == test::chord_of_count(chart));
        CHECK(test::chord_of_count(abc->chart) == test::chord_of_count(chart));
        CHECK(xml->chart.key == chart.key);
        CHECK(xml->chart.tempo_bpm == chart.tempo_bpm);
        CHECK(abc->chart.tempo_bpm == chart.tempo_bpm);
        CHECK(xml->remarks.empty());
        CHECK(abc->remarks.empty());
    });
}

TEST_CASE("harmony of other programs: kinds without text, degrees, basses, chords between counts") {
    CHECK(read(score(bar(kHead + chord("C", "dominant") + rest(2) + chord("F", "minor-seventh") + rest(2)))) == "| C7 Fm7 |\n");
    CHECK(read(score(bar(kHead + chord("C", "dominant", "<degree><degree-value>9</degree-value><degree-alter>-1</degree-alter><degree-type>add</degree-type></degree>") + rest(4)))) == "| C7b9 |\n");
    CHECK(read(score(bar(kHead + chord("C", "dominant", "<degree><degree-value>5</degree-value><degree-alter>1</degree-alter><degree-type>alter</degree-type></degree>") + rest(4)))) == "| C7#5 |\n");
    CHECK(read(score(bar(kHead + chord("C", "suspended-fourth", "<degree><degree-value>7</degree-value><degree-alter>0</degree-alter><degree-type>add</degree-type></degree>") + rest(4)))) == "| C7sus4 |\n");
    CHECK(read(score(bar(kHead + chord("C", "major", "<bass><bass-step>E</bass-step></bass>") + rest(4)))) == "| C/E |\n");
    CHECK(read(score(bar(kHead + chord("C", "minor", "<inversion>1</inversion>") + rest(4)))) == "| Cm/Eb |\n");
    CHECK(read(score(bar(kHead + chord("C", "none") + rest(2) + chord("B", "diminished-seventh") + rest(2)))) == "| N.C. Bdim7 |\n");
    CHECK(read(score(bar(kHead + rest(2) + chord("G", "dominant") + rest(2)))) == "| N.C. G7 |\n");
    CHECK(read(score(bar(kHead + "<harmony><root><root-step>C</root-step><root-alter>1</root-alter></root><kind text=\"7 (♭9)\">dominant</kind><degree><degree-value>9</degree-value>"
                                 "<degree-alter>-1</degree-alter><degree-type>add</degree-type></degree></harmony>" + rest(4)))) == "| C#7(♭9) |\n");
    // The text alone may not lie about the chord: the kind is what sounds.
    CHECK(read(score(bar(kHead + "<harmony><root><root-step>C</root-step></root><kind text=\"7\">minor-seventh</kind></harmony>" + rest(4)))) == "| Cm7 |\n");
    // Several chords placed by offsets over one whole note.
    CHECK(read(score(bar(kHead + chord("C", "major") + chord("F", "major", "<offset>2</offset>") + chord("G", "dominant", "<offset>3</offset>") + rest(4)))) == "| C F G7 |\n");
    // Another voice: backup and forward move the place.
    CHECK(read(score(bar(kHead + rest(4) + "<backup><duration>4</duration></backup>" + chord("C", "major") + "<forward><duration>2</duration></forward>" + chord("F", "major")))) == "| C F |\n");
    CHECK(read(score(bar(kHead + chord("C", "major") + "<note><rest/><duration>1.5</duration></note>" + chord("F", "major") + "<note><rest/><duration>2.5</duration></note>"))) ==
          "| C F |\n(bar 1: F on beat 2.5 goes to the nearest count, 3)\n");
    CHECK(read(score(bar(kHead + chord("C", "major") + "<note><rest/><duration>3.5</duration></note>" + chord("F", "major") + "<note><rest/><duration>0.5</duration></note>") + bar(rest(4)))) ==
          "| C | F |\n(bar 1: F on beat 4.5 goes to the nearest count, 1 of the next bar)\n");
}

TEST_CASE("what a chart can't hold is left out with a remark") {
    CHECK(read(score("<measure number=\"0\" implicit=\"yes\">" + kHead + rest(1) + "</measure>" + bar(chord("C", "major") + rest(4)))) == "| C |\n(a pickup bar is left out)\n");
    CHECK(read(score(bar(kHead + chord("C", "major") + rest(4) + "<sound dalsegno=\"1\"/>"))) == "| C |\n(bar 1: D.C., D.S., segno, coda and fine are left out; write such repeats out)\n");
    CHECK(read(score(bar(kHead + chord("C", "major") + rest(2)) + "<measure number=\"X1\" implicit=\"yes\">" + chord("F", "major") + rest(2) + "</measure>")) ==
          "| C F |\n(bar 1: a bar that is split in two is read as one)\n");
    CHECK(read(score(bar(kHead + "<attributes><key><fifths>2</fifths></key></attributes>" + chord("C", "major") + rest(4)) + bar("<attributes><key><fifths>3</fifths></key></attributes>" + rest(4)))) ==
          "| C | C |\n(bar 2: a change of key is left out; a chart has one key)\n");
    CHECK(read(score(bar(kHead + chord("C", "major") + "<barline location=\"right\"><ending number=\" \" type=\"start\"/></barline>" + rest(4)))) == "| C |\n(bar 1: an ending without a number is left out)\n");
    CHECK(read(score(bar(kHead + "<sound tempo=\"20\"/>" + chord("C", "major") + rest(4)))) == "| C |\n(bar 1: the tempo is not within 40 to 300 counts a minute and was moved there)\n");
}

TEST_CASE("tempo: the mark that players read, else what sounds, in counts of the first bar") {
    const auto tempo = [&](const std::string& direction, const std::string& head = kHead) { return read_music_xml(score(bar(head + "<direction>" + direction + "</direction>" + chord("C", "major") + rest(1))))->chart.tempo_bpm; };
    const auto mark = [](const std::string& unit, const std::string& number) { return "<direction-type><metronome>" + unit + "<per-minute>" + number + "</per-minute></metronome></direction-type>"; };
    const std::string six = "<attributes><divisions>1</divisions><time><beats>6</beats><beat-type>8</beat-type></time></attributes>";
    CHECK(tempo(mark("<beat-unit>half</beat-unit>", "70")) == 140.0);
    CHECK(tempo(mark("<beat-unit>quarter</beat-unit><beat-unit-dot/>", "60"), six) == 180.0);
    CHECK(tempo("<sound tempo=\"90\"/>") == 90.0);
    CHECK(tempo("<sound tempo=\"90\"/>", six) == 180.0);
    CHECK(tempo(mark("<beat-unit>quarter</beat-unit>", "100") + "<sound tempo=\"97\"/>") == 100.0);
    CHECK(tempo(mark("<beat-unit>quarter</beat-unit>", "ca. 100")) == 120.0);
}

TEST_CASE("timewise scores, parts without chords, repeats and endings") {
    CHECK(read("<score-timewise><measure number=\"1\"><part id=\"A\">" + rest(4) + "</part><part id=\"B\">" + kHead + chord("C", "major") + rest(4) + "</part></measure></score-timewise>") == "| C |\n");
    CHECK(read("<score-partwise><part id=\"A\">" + bar(rest(4)) + "</part><part id=\"B\">" + bar(kHead + chord("D", "minor") + rest(4)) + "</part></score-partwise>") == "| Dm |\n");
    const std::string first = "<barline location=\"left\"><ending number=\"1\" type=\"start\"/></barline>", second = "<barline location=\"left\"><ending number=\"2\" type=\"start\"/></barline>";
    const std::string back = "<barline location=\"right\"><ending number=\"1\" type=\"stop\"/><repeat direction=\"backward\"/></barline>";
    CHECK(read(score(bar(kHead + "<barline location=\"left\"><repeat direction=\"forward\"/></barline>" + chord("C", "major") + rest(4)) + bar(first + chord("F", "major") + rest(4) + back) +
                     bar(second + chord("G", "major") + rest(4)))) == "|: C |1. F :|2. G |\n");
}

TEST_CASE("scores that can't be read are refused with place, value and limit") {
    const std::string good = chord("C", "major") + rest(4);
    std::string deep, open;
    for (int i = 0; i < 100; ++i) {
        deep += "<a>";
        open = "</a>" + open;
    }
    const std::pair<std::string, std::string> rows[] = {
        {"", "the file is empty"},
        {"not xml", "line 1: the XML can't be read"},
        {"<score-partwise><part>\n<measure>", "line 2: the XML can't be read"},
        {"<opus/>", "the outermost element is \"opus\"; a score is score-partwise or score-timewise"},
        {"<score-partwise/>", "the score has no measures"},
        {"<!DOCTYPE score-partwise [<!ENTITY a \"aaaa\"><!ENTITY b \"&a;&a;\">]><score-partwise/>", "the file declares entities"},
        {"<!DOCTYPE x [<!ENTITY f SYSTEM \"file:///etc/hostname\">]><score-partwise><work><work-title>&f;</work-title></work></score-partwise>", "the file declares entities"},
        {deep + open, "elements stand in each other 100 deep, at most 64 are read"},
        {std::string(17U << 20U, ' ') + "<a/>", "the file is 17825796 bytes long, at most 16777216 are read"},
        {score(bar(kHead + rest(4))), "no chord symbols were found"},
        {score(bar("<attributes><divisions>0</divisions></attributes>" + good)), "bar 1: divisions \"0\"; a number above 0"},
        {score(bar("<attributes><divisions>1e999</divisions></attributes>" + good)), "bar 1: divisions \"1e999\""},
        {score(bar(kHead + "<note><rest/><duration>nan</duration></note>" + good)), "bar 1: duration \"nan\""},
        {score(bar(kHead + "<note><rest/><duration>-4</duration></note>" + good)), "bar 1: duration \"-4\""},
        {score(bar(kHead + "<forward><duration>1e300</duration></forward>" + good)), "bar 1: duration \"1e300\""},
        {score(bar("<attributes><time><beats>7</beats><beat-type>8</beat-type></time></attributes>" + good)), "bar 1: unknown meter \"7/8\"; meters are 4/4, 3/4, 2/2, 5/4 and 6/8"},
        {score(bar("<attributes><time><senza-misura/></time></attributes>" + good)), "bar 1: a bar without a meter"},
        {score(bar(kHead + chord("H", "major") + rest(4))), "bar 1, beat 1: root-step \"H\"; a letter from A to G is read"},
        {score(bar(kHead + "<harmony><root><root-step>C</root-step><root-alter>9</root-alter></root><kind>major</kind></harmony>")), "bar 1, beat 1: root-alter \"9\"; -2 to 2 semitones"},
        {score(bar(kHead + rest(1) + chord("C", "Tristan") + rest(3))), "bar 1, beat 2: kind \"Tristan\" is no chord that can be played here"},
        {score(bar(kHead + rest(1) + chord("C", "") + rest(3))), "bar 1, beat 2: kind \"\" is no chord"},
        {score(bar(kHead + "<harmony><root><root-step>C</root-step></root></harmony>")), "bar 1, beat 1: a harmony without a kind"},
        {score(bar(kHead + "<harmony><function>V</function><kind>dominant</kind></harmony>")), "bar 1, beat 1: a harmony without a root"},
        {score(bar(kHead + chord("C", "major", "<bass><bass-step>X</bass-step></bass>"))), "bar 1, beat 1: bass-step \"X\""},
        {score(bar(kHead + chord("C", "major", "<degree><degree-value>99</degree-value><degree-alter>0</degree-alter><degree-type>add</degree-type></degree>"))), "bar 1, beat 1: degree \"add 99 altered by 0\" is not read"},
        {score(bar(kHead + chord("C", "major", "<degree><degree-value>9</degree-value><degree-alter>0</degree-alter><degree-type>maybe</degree-type></degree>"))), "bar 1, beat 1: unknown degree type \"maybe\""},
        {score(bar(kHead + rest(4) + chord("C", "major"))), "bar 1, beat 5: a chord behind the end of its bar of 4 counts (4/4)"},
        {score(bar(kHead + chord("C", "major", "<offset>-1</offset>") + rest(4))), "bar 1, beat 0: a chord before the bar begins"},
        {score(bar(kHead + "<barline><repeat direction=\"backward\" times=\"1000000\"/></barline>" + good)), "bar 1: a repeat played \"1000000\" times; 2 to 99 are read"},
        {score(bar(kHead + "<barline><ending number=\"12\" type=\"start\"/></barline>" + good)), "bar 1: ending \"12\"; endings 1 to 9 are read"},
        {score(bar(kHead + "<barline><repeat direction=\"forward\"/></barline>" + good)), "bar 1: the repeat that opens here never closes"},
        {score(bar(kHead + "<attributes><transpose><chromatic>-2</chromatic></transpose></attributes>" + good)), "bar 1: the part is written for a transposing instrument (-2 semitones)"},
    };
    for (const auto& [bytes, message] : rows) {
        CAPTURE(message);
        const std::string said = read(bytes);
        CHECK_MESSAGE(said.starts_with(message), said);
    }
}

TEST_CASE("a score of too many bars or tags is refused before it takes the memory") {
    std::string many;
    for (int i = 0; i <= kMostBars; ++i) many += bar("");
    CHECK(read(score(bar(kHead + chord("C", "major") + rest(4)) + many)) == "a chart has at most 16384 bars");
    std::string tags;
    for (std::size_t i = 0; i <= kMostXmlTags; ++i) tags += "<a/>";
    CHECK(read("<b>" + tags + "</b>").starts_with("the file has 2000003 tags, at most 2000000 are read"));
}
