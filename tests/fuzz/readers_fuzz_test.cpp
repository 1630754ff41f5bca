// Readers of files against garbage, truncated and mutated files, seeded: none crashes, hangs or eats the memory; what is refused is refused with a message that fits on a
// terminal; what is accepted is a chart that can be written in every kind and read back. GRIPLINE_FUZZ_ROUNDS=20 makes twenty times as many.
#include <doctest/doctest.h>

#include <sys/resource.h>

#include <algorithm>
#include <cstdlib>
#include <ctime>
#include <functional>

#include "chart/chart_library.h"
#include "chart/chart_text.h"
#include "formats/abc_reader.h"
#include "formats/chart_abc.h"
#include "formats/chart_music_xml.h"
#include "formats/line_midi.h"
#include "formats/midi_chart.h"
#include "formats/music_xml.h"
#include "formats/music_xml_reader.h"
#include "formats/mxl.h"
#include "formats/round_trip.h"
#include "fuzz/mutate.h"
#include "lines/walk_builder.h"
#include "support/sweep.h"
#include "support/zip_archive.h"

using namespace gripline;
using test::Mutator;

namespace {

constexpr int kRounds = 3000;
using test::kSanitized;
/// For one file, of the processor. The slowest of all below took 0.9 s (2026-11-25), 20 s under sanitizers.
constexpr double kLongest_s = kSanitized ? 100.0 : 5.0;

using Reader = std::function<Result<ImportedChart>(const std::string&)>;

int rounds() {
    const char* const times = std::getenv("GRIPLINE_FUZZ_ROUNDS");
    return kRounds * (times ? std::max(1, std::atoi(times)) : 1) / (kSanitized && !times ? 4 : 1);
}

Result<ImportedChart> read_text(const std::string& text) {
    auto chart = parse_chart(text);
    if (!chart) return chart.error();
    return ImportedChart{*chart, {}};
}
Result<ImportedChart> read_midi(const std::string& bytes) {
    const auto file = parse_midi(bytes);
    if (!file) return file.error();
    return midi_chart(*file);
}
Result<ImportedChart> read_archive(const std::string& bytes) {
    const auto score = read_mxl(bytes);
    if (!score) return score.error();
    return read_music_xml(*score);
}

void check_message(const std::string& message) {
    CHECK(!message.empty());
    CHECK(message.size() < 2000);
    for (const char c : message)
        if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f) FAIL("a control character in: " << message);
}

/// What files of other kinds keep of a chart: titles, comments and sections without control characters, the meter of the first bar, and the chords, however they
/// were spelled.
Chart usual_form(Chart chart) {
    chart.title = clean_text(chart.title);
    const auto counts_of_quarter = [](const Meter& meter) { return meter.unit == 8 ? 2.0 : 1.0; };
    if (chart.key && chart.key->tonic != chart.key->tonic.readable()) chart.key->tonic = chart.key->tonic.as_root();  // Bbb major is A major
    const Meter first = chart.bars.front().meter;  // as fast as the heading's counts say
    chart.tempo_bpm = std::clamp(chart.tempo_bpm / counts_of_quarter(chart.meter) * counts_of_quarter(first), kLeastTempo_bpm, kMostTempo_bpm);
    chart.meter = first;
    const auto clean = [](std::vector<std::string>& lines) {
        for (std::string& line : lines) line = clean_text(line);
    };
    clean(chart.comments);
    for (Bar& bar : chart.bars) {
        clean(bar.comments);
        bar.section = clean_section(bar.section);
        for (PlacedChord& chord : bar.chords) {
            if (chord.symbol) chord.symbol->text = chord.symbol->harte_text();
        }
    }
    return chart;
}

/// An accepted chart goes to text, MusicXML and ABC and comes back.
void check_chart(const Chart& chart, const std::string& from) {
    const std::string text = chart_text(chart);
    const auto again = parse_chart(text);
    if (!again) FAIL(again.error().message << "\n" << text << "\nfrom:\n" << from);
    CHECK_MESSAGE(*again == chart, text << "\nand again:\n" << chart_text(*again) << "\nfrom:\n" << from);
    REQUIRE(played_bars(chart));
    if (std::none_of(chart.bars.begin(), chart.bars.end(), [](const Bar& bar) { return bar.chords.front().symbol.has_value(); })) return;  // N.C. alone is no chart to others
    const auto xml = read_music_xml(chart_music_xml(chart));
    if (!xml) FAIL(xml.error().message << "\n" << text);
    const auto abc = read_abc(chart_abc(chart));
    if (!abc) FAIL(abc.error().message << "\n" << text);
    const Chart usual = usual_form(chart);
    CHECK_MESSAGE(usual_form(xml->chart) == usual, chart_text(xml->chart) << "\nthrough MusicXML, from:\n" << text);
    CHECK_MESSAGE(usual_form(abc->chart) == usual, chart_text(abc->chart) << "\nthrough ABC, from:\n" << text);
}

/// Lets the reader read, and checks what comes out and how long it took. Tells whether the file was accepted.
bool read_one(const Reader& reader, const std::string& bytes) {
    const std::clock_t start = std::clock();
    const auto made = reader(bytes);
    const double took_s = static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;  // of the processor: other work does not count
    CHECK(took_s < kLongest_s);
    if (!made) {
        check_message(made.error().message);
        return false;
    }
    for (const std::string& remark : made->remarks) check_message(remark);
    CHECK(made->remarks.size() <= 22);
    check_chart(made->chart, bytes);
    return true;
}

void fuzz(const Reader& reader, const std::vector<std::string>& good, std::vector<std::string> words) {
    Mutator mutator(20261125, std::move(words));
    int accepted = 0;
    for (const std::string& each : good) CHECK(read_one(reader, each));
    for (int i = 0; i < rounds(); ++i) {
        if (i % 10 == 0) read_one(reader, mutator.garbage(400));
        else accepted += read_one(reader, mutator.mutated(mutator.one_of(good), good)) ? 1 : 0;
    }
    CHECK(accepted > rounds() / 200);  // the changes are small enough to reach what lies behind the first check
    MESSAGE(accepted << " of " << rounds() << " broken files were still charts");
}

std::vector<Chart> charts() {
    std::vector<Chart> out;
    test::with_every_chart([&](const Chart& chart) {
        if (chart.bars.size() <= 16 || chart.title.starts_with("A 100")) out.push_back(chart);
    });
    return out;
}
std::vector<std::string> written(const std::function<std::string(const Chart&)>& write) {
    std::vector<std::string> out;
    for (const Chart& chart : charts()) out.push_back(write(chart));
    return out;
}

void check_memory() {
    rusage used{};
    getrusage(RUSAGE_SELF, &used);
    if (!kSanitized) CHECK(used.ru_maxrss < 700'000);  // KiB, after everything
}

}  // namespace

TEST_CASE("chart text, broken") {
    fuzz(read_text, written(chart_text), {"|", ":|", "|:", "||", "%", "/", "x3", "1.", "2.", "[A]", "N.C.", "{", "}", "{D6}", "\n", "#", "3/4", "6/8", "key:", "tempo:", "title:", "meter: 5/4\n", "\xC3", "\u266D", "\t", "C7", "m7b5"});
}

TEST_CASE("MusicXML, broken") {
    std::vector<std::string> scores = written(chart_music_xml);
    for (const char* name : {"blues", "waltz-steps"}) scores.push_back(line_music_xml(*library_chart(name), *build_line(*library_chart(name), {})));
    fuzz(read_music_xml, scores,
         {"<", ">", "/>", "</", "&", "&lt;", "&#0;", "&#x10FFFF;", "<!DOCTYPE x [", "<!ENTITY a \"b\">", "<![CDATA[", "]]>", "<!--", "-->", "<?x ?>", "<backup><duration>9</duration></backup>", "<forward><duration>1</duration></forward>",
          "<offset>-3</offset>", "<chord/>", "<grace/>", "<ending number=\"2\" type=\"start\"/>", "<repeat direction=\"forward\"/>", "<repeat direction=\"backward\" times=\"3\"/>", "<measure implicit=\"yes\">", "</measure>",
          "<measure>", "<kind>other</kind>", "<kind>none</kind>", "<bass><bass-step>F</bass-step></bass>", "<inversion>2</inversion>", "<transpose><chromatic>3</chromatic></transpose>", "type=\"stop\"", "\xFE\xFF"});
}

TEST_CASE("ABC, broken") {
    fuzz(read_abc, written(chart_abc),
         {"|", ":|", "|:", "::", "[|", "|]", "[1", "|2", "\"", "\"C7\"", "\"^x\"", "(3", "(3:2:9", ">", "<<", "&", "{", "}", "[", "]", "[K:G]", "[M:3/4]", "[L:1/16]", "[V:2]", "\nV:1\n", "\nX:2\n", "\nK:Am\n", "\nM:6/8\n",
          "\nw:", "\n\n", "\\\n", "%", "%%begintext\n", "Z9", "z/", "z//", "z99", "!", "+", "y", "^^A,,", "\nQ:1/4=9999\n", "[r:walk on D6]", "[r:as before]", "\nP:", "N.C."});
}

TEST_CASE("MIDI, broken") {
    const std::vector<std::string> files = written([](const Chart& chart) {
        LineSettings sparse;
        sparse.steps = Steps::one;
        return midi_bytes(line_midi(chart, *build_line(chart, sparse)));
    });
    const auto bytes = [](const char* text, std::size_t size) { return std::string(text, size); };
    fuzz(read_midi, files, {"MThd", "MTrk", bytes("\xFF\x01\x02" "F7", 5), bytes("\xFF\x58\x04\x03\x02\x18\x08", 7), bytes("\xFF\x51\x03\x00\x00\x00", 6), bytes("\xFF\x2F\x00", 3), bytes("\xFF\xFF\xFF\x7F", 4), bytes("\xF0\x7F", 2),
                            bytes("\x00\xFF\x59\x02\x80\x01", 6), bytes("\x00\x00\x00\x00", 4), "Cmaj7", bytes("\x81\x00", 2)});
}

TEST_CASE("compressed MusicXML, broken: the archive, and the score inside") {
    const std::vector<std::string> scores = written(chart_music_xml), archives = written([](const Chart& chart) { return *mxl_bytes(chart_music_xml(chart)); });
    fuzz(read_archive, archives, {"PK\3\4", "PK\1\2", "PK\5\6", "META-INF/container.xml", std::string("\xFF\xFF\xFF\xFF", 4), std::string("\0\0", 2)});
    Mutator mutator(7, {"<rootfile full-path=\"\"/>", "&", "\"", "..", "media-type=\"x\"", "/"});
    const std::string container = "<container><rootfiles><rootfile full-path=\"a.xml\"/></rootfiles></container>";
    for (int i = 0; i < rounds() / 4; ++i) {
        const bool in_container = i % 2 == 0;
        read_one(read_archive, test::zip_archive({{"META-INF/container.xml", in_container ? mutator.mutated(container, {container}) : container}, {"a.xml", in_container ? scores[0] : mutator.mutated(mutator.one_of(scores), scores)}}));
    }
}

TEST_CASE("files that are huge in one way are refused, or read, in time and memory") {
    const auto repeated = [](const std::string& part, std::size_t bytes) {
        if (kSanitized) bytes /= 8;  // every byte is looked at alike, and ten times slower; the limits themselves are tried by the other builds
        std::string out;
        while (out.size() + part.size() <= bytes) out += part;
        return out;
    };
    read_one(read_text, repeated("| C ", 1U << 20U));
    read_one(read_text, "|" + repeated(" C |", 60000) + " x99\n");
    read_one(read_text, repeated("[A]\n", 1U << 20U));
    read_one(read_text, repeated("#\n", 1U << 20U));
    const std::string head = "X:1\nM:4/4\nL:1/4\nK:C\n";
    for (const char* part : {"\"C\"", "\"C\"z4|", "Z", "[", "(", "\"", "|:", "::", "[1", ">", "&", "\"C\"&", "{", "[K:G]", "!", "P:A\n", "% x\n", "\"D.C.\"", "\"hm\"", "V:1\n"}) read_one(read_abc, head + repeated(part, (4U << 20U) - 100));
    for (const char* part : {"<a>", "<a/>", "<", "<!--", "<!DOCTYPE ", "<![CDATA[", "<a b=\"\" c=\"\"/>", "&amp;", "<?x?>", "<a>x</a>"}) {
        read_one(read_music_xml, repeated(part, 16U << 20U));
        read_one(read_music_xml, "<score-partwise><part><measure>" + repeated(part, (16U << 20U) - 200) + "</measure></part></score-partwise>");
    }
    const std::string chord = "<harmony><root><root-step>C</root-step></root><kind>major</kind></harmony>";
    read_one(read_music_xml, "<score-partwise><part><measure>" + repeated(chord, 16U << 20U) + "</measure></part></score-partwise>");
    read_one(read_music_xml, "<score-partwise><part>" + repeated("<measure>" + chord + "</measure>", 16U << 20U) + "</part></score-partwise>");
    for (const std::string& part : {std::string("\x00\x90\x40\x40", 4), std::string("\x00\x40\x40", 3), std::string("\x00\xC0\x01", 3), std::string("\x00\xFF\x01\x02" "C7", 6), std::string("\x81\x70\xFF\x06\x01" "C", 6), std::string("\x00\xFF\x58\x04\x04\x02\x18\x08", 8)}) {
        std::string track = std::string("\x00\x90\x40\x40", 4) + repeated(part, 12U << 20U) + std::string("\x00\xFF\x2F\x00", 4);
        std::string file("MThd\0\0\0\6\0\1\0\1\0\x60MTrk", 18);
        for (int shift = 24; shift >= 0; shift -= 8) file += static_cast<char>(track.size() >> static_cast<unsigned>(shift));
        read_one(read_midi, file + track);
    }
    check_memory();
}
