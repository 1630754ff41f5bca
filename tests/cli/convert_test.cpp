// gripline convert: every kind to every kind that can hold it, what is said, what is refused and how; sound heard again by the listening chain.
#include <doctest/doctest.h>

#include <cmath>
#include <filesystem>
#include <fstream>

#include "audio/file_source.h"
#include "chart/chart_library.h"
#include "chart/chart_text.h"
#include "cli/line_sound.h"
#include "cli/run.h"
#include "lines/walk_builder.h"
#include "listen/recording.h"
#include "support/file_bytes.h"
#include "support/temp_folder.h"

using namespace gripline;
using namespace gripline::test;

namespace {

void write(const std::string& path, const std::string& bytes) { std::ofstream(path, std::ios::binary) << bytes; }

}  // namespace

TEST_CASE("a chart goes through every kind that holds it and comes back the same") {
    const TempFolder folder;
    const std::string text = chart_text(*library_chart("ferry-at-noon"));
    std::string from = folder / "a.chart";
    write(from, text);
    for (const char* name : {"b.musicxml", "c.mxl", "d.abc", "e.XML", "f.txt", "g.chart"}) {
        const std::string to = folder / name;
        const Run done = run({"convert", from, to});
        CHECK_MESSAGE(done.status == 0, done.err);
        CHECK(done.out.starts_with(to + ": "));
        CHECK(done.err.empty());
        from = to;
    }
    CHECK(bytes_of(from) == text);
    CHECK(run({"convert", from, "-", "--to", "chart"}).out == text);
    CHECK(run({"convert", folder / "c.mxl", folder / "h.chart", "--from", "musicxml"}).status == 0);  // an archive is seen for what it is
    CHECK(bytes_of(folder / "h.chart") == text);
    CHECK(run({"line", folder / "c.mxl", "--json"}).out == run({"line", "ferry-at-noon", "--json"}).out);
}

TEST_CASE("a line goes to every kind that holds one") {
    const TempFolder folder;
    for (const char* name : {"a.mid", "a.tab", "a.svg", "a.html", "a.wav"}) {
        const Run done = run({"convert", "blues", folder / name});
        CHECK_MESSAGE(done.status == 0, done.err);
        CHECK(done.out == (folder / name) + ": " + done.out.substr((folder / name).size() + 2));
        CHECK(done.out.find("of the line, 48 grips") != std::string::npos);
        CHECK(std::filesystem::file_size(folder / name) > 1000);
    }
    for (const char* name : {"b.musicxml", "b.mxl", "b.abc"}) CHECK(run({"convert", "blues", folder / name, "--line"}).out.find("48 grips") != std::string::npos);
    const std::string picture = bytes_of(folder / "a.svg"), words = picture.substr(picture.find("<desc>"), picture.find("</desc>") - picture.find("<desc>"));
    CHECK(words.find(". Bar 2: ") != std::string::npos);  // a sentence a bar, commas between its grips alone
    CHECK(words.find(",.") == std::string::npos);
    CHECK(words.find(", ") != std::string::npos);
    CHECK_FALSE(words.ends_with(','));
    CHECK(bytes_of(folder / "b.musicxml").find("<fret>") != std::string::npos);
    CHECK(run({"convert", "blues", "-", "--to", "tab"}).out == bytes_of(folder / "a.tab"));
    CHECK(run({"convert", "blues", "-", "--to", "tab", "--steps", "1"}).out != bytes_of(folder / "a.tab"));
    CHECK(run({"convert", "blues", "-", "--to", "chart", "--key", "Eb", "--tempo", "90"}).out.starts_with("title: Blues\nkey: Eb\nmeter: 4/4\ntempo: 90\n"));
}

TEST_CASE("the page and the picture: names escaped, no script, nothing from elsewhere") {
    const TempFolder folder;
    write(folder / "a.chart", "title: <script>alert(1)</script> & \"x\"\n[<b>]\n| C7 | F7 |\n");
    for (const char* name : {"a.html", "a.svg"}) {
        REQUIRE(run({"convert", folder / "a.chart", folder / name}).status == 0);
        const std::string page = bytes_of(folder / name);
        CHECK(page.find("<script") == std::string::npos);
        CHECK(page.find("<b>") == std::string::npos);
        CHECK(page.find("&lt;script&gt;alert(1)&lt;/script&gt; &amp; &quot;x&quot;") != std::string::npos);
        for (const char* elsewhere : {"src=", "href=", "url(", "@import"}) CHECK(page.find(elsewhere) == std::string::npos);
        const auto first = page.find("http");  // but for the namespace's name
        CHECK(page.substr(first, 26) == "http://www.w3.org/2000/svg");
        CHECK(page.find("Bar 1: C7") != std::string::npos);  // the picture in words
    }
}

TEST_CASE("fewer grips in a row are larger, and a left-handed neck is mirrored") {
    const auto page = [](const std::vector<std::string>& more) {
        std::vector<std::string> words{"convert", "blues", "-", "--to", "html"};
        words.insert(words.end(), more.begin(), more.end());
        return run(words).out;
    };
    const auto count = [](const std::string& text, const std::string& part) {
        int out = 0;
        for (auto at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++out;
        return out;
    };
    CHECK(count(page({}), "<svg ") == 6);
    CHECK(count(page({"--across", "4"}), "<svg ") == 12);
    CHECK(page({"--across", "4"}).find("viewBox=\"0 0 360 ") != std::string::npos);
    CHECK(count(page({"--across", "3"}), "<svg ") == 12);  // a bar of four squeezed in
    CHECK(page({"--left-handed"}) != page({}));
    CHECK(count(page({"--left-handed"}), "<circle") == count(page({}), "<circle"));
}

TEST_CASE("a file is replaced only when --force says so, and only by a whole one") {
    const TempFolder folder;
    const std::string path = folder / "a.chart";
    write(path, "mine");
    const Run kept = run({"convert", "blues", path});
    CHECK(kept.status == 1);
    CHECK(kept.err == "gripline: " + path + " exists; --force replaces it\n");
    CHECK(bytes_of(path) == "mine");
    CHECK(run({"convert", "nothing-like-it", path, "--force"}).status == 1);
    CHECK(bytes_of(path) == "mine");
    CHECK(run({"convert", "blues", path, "--force"}).status == 0);
    CHECK(bytes_of(path) == chart_text(*library_chart("blues")));
    CHECK(std::distance(std::filesystem::directory_iterator(folder.path()), {}) == 1);
    std::filesystem::create_symlink(path, folder / "link.chart");
    CHECK(run({"convert", "rhythm-a", folder / "link.chart", "--force"}).status == 0);
    CHECK(std::filesystem::is_symlink(folder / "link.chart"));
    CHECK(bytes_of(path) == chart_text(*library_chart("rhythm-a")));
}

TEST_CASE("what can't be converted is refused with what to do") {
    const TempFolder folder;
    write(folder / "bad.musicxml", "<score-partwise>");
    write(folder / "bad.mxl", "PK");
    write(folder / "bad.abc", "X:1\nM:4/4\nK:C\n\"Cmja7\"z8|\n");
    write(folder / "bad.mid", "MThd");
    write(folder / "bad.chart", "| C7 | Cmja7 |\n");
    write(folder / "a.svg", "<svg/>");
    std::filesystem::create_directory(folder / "folder.abc");
    struct Row {
        std::vector<std::string> words;
        std::string message;
        int status = 1;
    };
    const Row rows[] = {
        {{"convert", "blues"}, "gripline: OUT is required", 2},
        {{"convert", "blues", folder / "x"}, (folder / "x") + ": no ending tells the kind; known are .chart, .musicxml"},
        {{"convert", "blues", folder / "x.pdf"}, (folder / "x.pdf") + ": the ending \".pdf\" tells no kind"},
        {{"convert", "blues", "-"}, "\"-\" has no ending that tells the kind; say it with --to: chart, musicxml"},
        {{"convert", "-", folder / "x.abc"}, "\"-\" has no ending that tells the kind; say it with --from"},
        {{"convert", "blues", folder / "x.abc", "--to", "pdf"}, "--to: pdf not in {chart,musicxml,mxl,abc,midi,tab,svg,html,wav}", 2},
        {{"convert", "no-such", folder / "x.abc"}, "\"no-such\" is no file, and there is no chart \"no-such\" in the library"},
        {{"convert", folder / "gone.abc", folder / "x.abc", "--from", "abc"}, (folder / "gone.abc") + ": there is no such file"},
        {{"convert", folder / "folder.abc", folder / "x.abc"}, (folder / "folder.abc") + ": can't be read; a chart is an ordinary file"},
        {{"convert", folder / "a.svg", folder / "x.abc"}, (folder / "a.svg") + ": a picture of the grips can't be read as a chart"},
        {{"convert", folder / "bad.musicxml", folder / "x.abc"}, (folder / "bad.musicxml") + ": line 1: the XML can't be read"},
        {{"convert", folder / "bad.mxl", folder / "x.abc"}, (folder / "bad.mxl") + ": the archive can't be read"},
        {{"convert", folder / "bad.abc", folder / "x.abc"}, (folder / "bad.abc") + ": line 4, bar 1, beat 1: unknown quality \"mja7\""},
        {{"convert", folder / "bad.mid", folder / "x.abc"}, (folder / "bad.mid") + ": byte 4: the file or track ends early"},
        {{"convert", folder / "bad.chart", folder / "x.abc"}, (folder / "bad.chart") + ": line 1, bar 2, beat 1: unknown quality \"mja7\""},
        {{"convert", "blues", folder / "x.chart", "--line"}, "--line: a chart as plain text can't hold a line"},
        {{"convert", "blues", folder / "x.mid", "--click"}, "--click, --choruses, --answer and --faster are for sound (.wav), not for a MIDI file"},
        {{"convert", "blues", folder / "x.mid", "--across", "4"}, "--across and --left-handed are for pictures (.svg, .html), not for a MIDI file"},
        {{"convert", "blues", folder / "x.wav", "--answer"}, "--answer and --faster need two choruses or more"},
        {{"convert", "blues", folder / "x.svg", "--across", "2"}, "gripline: --across: \"2\" is not allowed; 3 to 16 is", 2},
        {{"convert", "blues", "-", "--to", "wav"}, "sound can't go to the standard output; name a file"},
        {{"convert", "blues", folder / "no/such/x.abc"}, (folder / "no/such/x.abc.part") + ": can't be written; does its folder exist"},
        {{"convert", "blues", folder / "no/such/x.wav"}, (folder / "no/such/x.wav.part") + ": can't be written"},
        {{"convert", "blues", "/dev/null", "--to", "abc"}, "/dev/null: is no ordinary file; name a file to write"},
        {{"convert", "blues", folder / "x.abc", "--key", "H"}, "--key: unknown key \"H\""},
        {{"convert", "blues", folder / "x.abc", "--tempo", "1000"}, "gripline: --tempo: \"1000\" is not allowed; 40 to 300 counts a minute is", 2},
        {{"convert", "blues", folder / "x.wav", "--choruses", "21"}, "gripline: --choruses: \"21\" is not allowed; 1 to 20 is", 2},
        {{"convert", "blues", folder / "x.tab", "--lock", "1.1=abc"}, "gripline: --lock: "},
    };
    for (const Row& row : rows) {
        const Run done = run(row.words);
        CHECK_MESSAGE(done.status == row.status, row.message);
        CHECK_MESSAGE(done.err.find(row.message) != std::string::npos, done.err);
        CHECK(done.out.empty());
    }
    CHECK_FALSE(std::filesystem::exists(folder / "x.abc"));
}

TEST_CASE("what a chart can't hold of a file is said on standard error, and the chart is made all the same") {
    const TempFolder folder;
    write(folder / "a.abc", "X:1\nM:4/4\nL:1/4\nK:C\nG|\"C\"c4|\"D.C.\"c4|\n");
    const Run done = run({"convert", folder / "a.abc", "-", "--to", "chart"});
    CHECK(done.status == 0);
    CHECK(done.err == "gripline: " + (folder / "a.abc") + ": bar 1: a pickup bar is left out\ngripline: " + (folder / "a.abc") + ": bar 2: D.C. and D.S. are left out; write such repeats out\n");
}

TEST_CASE("what a message quotes from a file can't garble the terminal") {
    const TempFolder folder;
    write(folder / "a.chart", "| \xFF\xC2\x9B" "31m |\n");
    write(folder / "b.chart", "| H\xFF\xE2\x99 |\n");
    for (const char* name : {"a.chart", "b.chart"}) {
        const Run done = run({"convert", folder / name, "-", "--to", "chart"});
        CHECK(done.status == 1);
        for (const char* raw : {"\xFF", "\x9B", "\x99 "}) CHECK(done.err.find(raw) == std::string::npos);
    }
}

TEST_CASE("the line as sound: every strum is heard where it was written, in 4/4, 6/8 and with a click, and peaks stay quiet") {
    const TempFolder folder;
    for (const auto& [name, click] : {std::pair{"two-five-one-major", false}, {"six-eight", false}, {"waltz-steps", true}}) {
        CAPTURE(name);
        const Chart chart = *library_chart(name);
        LineSettings settings;
        const Line line = *build_line(chart, settings);
        LineSoundConfig config;
        config.click = click;
        config.choruses = 2;
        const std::string path = folder / (std::string(name) + ".wav");
        REQUIRE_FALSE(write_line_sound(path, chart, line, settings.neck, config));
        const auto starts = sound_starts_s(chart, line, config);
        REQUIRE(starts.size() == 2 * line.beats.size());
        CHECK(starts[0] == doctest::Approx(click ? 3.0 * 60.0 / chart.tempo_bpm : 1.0).epsilon(0.001));
        auto source = FileSource::open(path);
        REQUIRE(source);
        std::vector<double> onsets;
        static_cast<void>(hear_source(**source, 0.0, {}, [&](const dsp::StrumEvidence& evidence) {
            if (onsets.empty() || onsets.back() != evidence.onset_s) onsets.push_back(evidence.onset_s);
            return true;
        }));
        std::size_t found = 0;
        for (const double start : starts)
            for (const double onset : onsets) found += std::abs(onset - start) < 0.01 ? 1 : 0;
        CHECK(found == starts.size());
        CHECK(onsets.size() <= starts.size());
    }
    // Every other chorus for the player, each ten counts a minute faster: the third begins after a bar of clicks and two choruses.
    const Chart chart = *library_chart("two-five-one-major");  // a grip on every count
    const Line line = *build_line(chart, {});
    LineSoundConfig practice;
    practice.click = practice.answer = true;
    practice.choruses = 4;
    practice.faster_bpm = 10.0;
    const auto starts = sound_starts_s(chart, line, practice);
    REQUIRE(starts.size() == 2 * line.beats.size());
    const double counts = static_cast<double>(line.beats.size()), first_s = 60.0 / chart.tempo_bpm, second_s = 60.0 / (chart.tempo_bpm + 10.0), third_s = 60.0 / (chart.tempo_bpm + 20.0);
    CHECK(starts[0] == doctest::Approx(4.0 * first_s).epsilon(0.0001));
    CHECK(starts[line.beats.size()] == doctest::Approx((4.0 + counts) * first_s + counts * second_s).epsilon(0.0001));
    CHECK(starts[line.beats.size() + 1] - starts[line.beats.size()] == doctest::Approx(third_s).epsilon(0.0001));

    Chart slow = *library_chart("blues");
    slow.tempo_bpm = 40.0;
    LineSoundConfig config;
    config.choruses = kMostChoruses * 3;
    const auto refused = write_line_sound(folder / "long.wav", slow, *build_line(slow, {}), Neck(), config);
    REQUIRE(refused);
    CHECK(refused->message.find("would sound for 4322 s, at most 3600; fewer choruses, or a faster tempo") != std::string::npos);
}
