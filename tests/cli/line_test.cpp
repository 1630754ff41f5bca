// gripline line: one JSON object a beat, with the fields of the contract; text for the eye; what is refused and how.
#include <doctest/doctest.h>

#include <sys/stat.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "cli/run.h"
#include "support/temp_folder.h"

using namespace gripline;
using namespace gripline::test;

namespace {

std::vector<nlohmann::json> beats_of(const Run& done) {
    REQUIRE(done.status == 0);
    std::vector<nlohmann::json> out;
    std::istringstream in(done.out);
    for (std::string line; std::getline(in, line);) out.push_back(nlohmann::json::parse(line));
    return out;
}

}  // namespace

TEST_CASE("each beat is a line of JSON with the fields of the contract") {
    const auto beats = beats_of(run({"line", "blues", "--json"}));
    REQUIRE(beats.size() == 48);
    for (std::size_t i = 0; i < beats.size(); ++i) {
        const auto& beat = beats[i];
        CHECK(beat["bar"] == 1 + i / 4);
        CHECK(beat["beat"] == 1 + i % 4);
        for (const char* field : {"chord", "grip", "bass", "scale", "sounds"}) CHECK(beat[field].is_string());
        CHECK(beat["notes"].size() == 3);
        CHECK(beat["notes"][0].get<std::string>().starts_with(beat["bass"].get<std::string>()));
        CHECK((beat["role"] == "approach") == beat.contains("from"));
        if (i > 0) CHECK((beat["motion"] == "up" || beat["motion"] == "down"));
    }
    CHECK(beats[0]["motion"].is_null());
    CHECK(beats[0]["chord"] == "F7");
    CHECK(beats[0]["scale"] == "F dominant seventh");
    CHECK(beats[3]["role"] == "approach");
}

TEST_CASE("key, direction, approach, steps, locks and scales are heeded") {
    CHECK(beats_of(run({"line", "blues", "--key", "Ab", "--json"}))[0]["chord"] == "Ab7");
    for (const auto& beat : beats_of(run({"line", "blues", "--approach", "above", "--json"})))
        if (beat["role"] == "approach") CHECK(beat["from"] == "above");
    CHECK(beats_of(run({"line", "cycle-of-dominants", "--steps", "1", "--json"})).size() == 24 + 11);
    CHECK(beats_of(run({"line", "cycle-of-dominants", "--landing", "--json"})).size() == 12 + 11);
    const auto locked = beats_of(run({"line", "--lock", "2.1=6x67xx", "--lock", "3.1=5x35xx", "blues", "--json"}));
    CHECK(locked[8]["grip"] == "5x35xx");
    CHECK(locked[4]["grip"] == "6x67xx");
    CHECK(locked[4]["locked"] == true);
    CHECK(beats_of(run({"line", "blues", "--scale", "F7=Cm6", "--json"}))[0]["scale"] == "C minor sixth");
}

TEST_CASE("a chord that is played through another chord's scale is said to be, in text, in JSON and in the reasons") {
    const test::TempFolder folder;
    const std::string path = folder / "served.chart";
    std::ofstream(path) << "| C7b9 | F#m7b5 | Gm7 | Csus4 | F7 |\n";
    const auto beats = beats_of(run({"line", path, "--json"}));
    CHECK(beats[0]["scale"] == "Db minor sixth");
    CHECK(beats[0]["played_as"] == "Dbm6");
    CHECK(beats[16]["played_as"] == "F7");
    CHECK(run({"line", path}).out.find("C7b9 is played as Dbm6, F#m7b5 as Am6, Gm7 as Bb6, Csus4 as Bb6\n") != std::string::npos);
    CHECK(run({"line", path, "--explain"}).out.find("C7b9 is played as Dbm6: minor sixth a semitone above the root\n") != std::string::npos);
    CHECK(run({"line", path}).out.find("F7 is played") == std::string::npos);
}

TEST_CASE("a written bass that can't be had is said with bar and beat, in text and JSON") {
    const test::TempFolder folder;
    const std::string path = folder / "slash.chart";
    std::ofstream(path) << "| C/E | Dm7/G |\n";
    const std::string words = "begins over D, not over the G behind its slash: F6, as which Dm7/G is played, does not hold it";
    const auto beats = beats_of(run({"line", path, "--json"}));
    CHECK(beats[0]["bass"] == "E");
    CHECK_FALSE(beats[0].contains("remark"));
    CHECK(beats[4]["remark"] == words);
    CHECK(run({"line", path}).out.find("bar 2, beat 1: " + words) != std::string::npos);
}

TEST_CASE("beats are called as players call them, with the bass in the chord's own letters and none that is the root") {
    const auto beats = beats_of(run({"line", "blues", "--key", "Gb", "--json"}));
    for (const auto& beat : beats) {
        const std::string name = beat["name"], chord = beat["chord"];
        CAPTURE(beat.dump());
        if (beat["role"] == "chord") CHECK(name.starts_with(chord));
        for (const char* odd : {"Dbm7/C#", "Ddim7/Cb", "Cb7/A"}) CHECK(name != odd);
        if (beat["role"] == "approach") CHECK_FALSE(name.starts_with(beat["chord"].get<std::string>() + "/"));
    }
}

TEST_CASE("signs beyond ASCII are shown as plain letters, in columns that stay straight") {
    const test::TempFolder folder;
    const std::string path = folder / "signs.chart";
    std::ofstream(path) << "| C\u03947 | F\u266F\u00F8 | B\u266D7 | E\u00B07 |\n";
    const Run done = run({"line", path});
    CHECK(done.status == 0);
    CHECK(std::none_of(done.out.begin(), done.out.end(), [](char c) { return static_cast<unsigned char>(c) > 126; }));
    for (const char* plain : {"Cmaj7", "F#m7b5", "Bb7", "Edim7"}) CHECK(done.out.find(plain) != std::string::npos);
    CHECK(beats_of(run({"line", path, "--json"}))[0]["chord"] == "C\u03947");
}

TEST_CASE("alternatives are numbered, and explanations hold costs and the second best") {
    const auto beats = beats_of(run({"line", "blues", "--alternatives", "3", "--explain", "--json"}));
    REQUIRE(beats.size() == 144);
    CHECK(beats[0]["alternative"] == 1);
    CHECK(beats[143]["alternative"] == 3);
    CHECK(beats[5]["costs"].is_object());
    CHECK(beats[5]["second"]["dearer"].is_number());
}

TEST_CASE("as text a line fits 80 columns, in every chart of the library") {
    std::istringstream list(run({"line", "--charts"}).out);
    std::string row;
    int charts = 0;
    std::getline(list, row);  // the heading
    while (std::getline(list, row)) {
        const Run done = run({"line", row.substr(0, row.find(' '))});
        CAPTURE(row);
        CHECK(done.status == 0);
        std::istringstream lines(done.out);
        for (std::string text; std::getline(lines, text);) CHECK_MESSAGE(text.size() <= 80, text);
        ++charts;
    }
    CHECK(charts >= 20);
}

TEST_CASE("a chart file is read, and its faults are told with file, line, bar and beat") {
    const test::TempFolder folder;
    const std::string path = folder / "tune.chart";
    std::ofstream(path) << "key: F\n| F7 | Bb7 |\n";
    CHECK(beats_of(run({"line", path, "--json"})).size() == 8);
    std::ofstream(path) << "| F7 | Bb7 Cmja7 |\n";
    const Run bad = run({"line", path, "--json"});
    CHECK(bad.status == 1);
    CHECK(bad.out.empty());
    CHECK(bad.err.starts_with("gripline: " + path + ": line 1, bar 2, beat 3: unknown quality \"mja7\" in \"Cmja7\""));
}

TEST_CASE("a named pipe is refused and not waited for; - is a chart on standard input") {
    const test::TempFolder folder;
    const std::string path = folder / "pipe";
    REQUIRE(mkfifo(path.c_str(), 0600) == 0);
    CHECK(run({"line", path}).err == "gripline: " + path + ": can't be read; a chart is an ordinary file\n");
    std::istringstream in("| F7 | Bb7 |\n");
    std::streambuf* const before = std::cin.rdbuf(in.rdbuf());
    const Run done = run({"line", "-", "--json"});
    std::cin.rdbuf(before);
    CHECK(beats_of(done).size() == 8);
}

TEST_CASE("a line is written to a file by its ending, and an existing file is kept unless it may be replaced") {
    const test::TempFolder folder;
    for (const char* ending : {".musicxml", ".mid", ".abc", ".tab", ".TXT"}) {
        const std::string path = folder / (std::string("line") + ending);
        CHECK(run({"line", "blues", "--to", path}).status == 0);
        CHECK(std::filesystem::file_size(path) > 100);
        const Run again = run({"line", "blues", "--to", path});
        CHECK(again.status == 1);
        CHECK(again.err == "gripline: " + path + " exists; --force replaces it\n");
        CHECK(run({"line", "blues", "--to", path, "--force"}).status == 0);
    }
    CHECK(run({"line", "blues", "--to", folder / "line.doc"}).err.find("line.doc: the ending \".doc\" tells no kind; known are .chart, .musicxml") != std::string::npos);
    CHECK(run({"line", "blues", "--to", folder / "no/line.mid"}).err.find("can't be written") != std::string::npos);
    CHECK(run({"line", "blues", "--overwrite"}).status == 2);
}

TEST_CASE("bad input has status 1 and wrong usage status 2, each with its message") {
    struct Row {
        std::vector<std::string> words;
        int status;
        std::string message;
    };
    const Row rows[] = {
        {{"line"}, 2, "gripline: CHART is required"},
        {{"line", "bluse"}, 1, "gripline: \"bluse\" is no file, and there is no chart \"bluse\" in the library; it holds blues, "},
        {{"line", "/tmp"}, 1, "gripline: /tmp: can't be read"},
        {{"line", "blues", "--key", "H"}, 1, "gripline: --key: unknown key \"H\""},
        {{"line", "blues", "--key", "Gm"}, 1, "gripline: --key: Gm is minor, but the chart is in F"},
        {{"line", "blues", "--direction", "left"}, 2, "gripline: --direction: "},
        {{"line", "blues", "--approach", "side"}, 2, "gripline: --approach: "},
        {{"line", "blues", "--steps", "3"}, 2, "gripline: --steps: "},
        {{"line", "blues", "--alternatives", "0"}, 2, "gripline: --alternatives: \"0\" is not allowed; 1 to 20 is"},
        {{"line", "blues", "--frets", "12"}, 1, "gripline: --frets: \"12\" is not understood"},
        {{"line", "blues", "--frets", "9-5"}, 1, "gripline: blues: the wanted part of the neck, frets 9 to 5, is out of range"},
        {{"line", "blues", "--lock", "3=8x89xx"}, 1, "gripline: --lock: \"3=8x89xx\" is not understood"},
        {{"line", "blues", "--lock", "3.1=8x"}, 1, "gripline: --lock: "},
        {{"line", "blues", "--lock", "99.1=8x89xx"}, 1, "gripline: blues: locked beat 99.1: the line has no step there"},
        {{"line", "blues", "--scale", "G7"}, 1, "gripline: --scale: \"G7\" is not understood"},
        {{"line", "blues", "--scale", "G7=Dm9"}, 1, "gripline: --scale: unknown scale \"Dm9\""},
        {{"line", "blues", "--costs", "turn"}, 1, "gripline: --costs: cost \"turn\" is not understood"},
        {{"line", "blues", "--strings", "4-3-2"}, 1, "gripline: blues: bar 1, beat 1: shell does not lie on strings 4-3-2"},
        {{"line", "blues", "--lock", "3.1=8x78xx", "--lock", "3.1=1x12xx"}, 1, "gripline: --lock: bar 3, beat 1 is locked twice, to 8x78xx and 1x12xx; leave one"},
        {{"line", "blues", "--scale", "D9=G7"}, 1, "gripline: blues: a scale is chosen for D9, but the chart has no D9; its chords are F7, Bb7, "},
        {{"line", "blues", "--seed", "-1"}, 2, "gripline: --seed: \"-1\" is not allowed; 0 to 18446744073709551615 is"},
        {{"line", "blues", "--seed", "99999999999999999999"}, 2, "gripline: --seed: \"99999999999999999999\" is not allowed; 0 to "},
        {{"line", "blues", "--tuning", "odd"}, 1, "gripline: "},
    };
    for (const Row& row : rows) {
        CAPTURE(row.message);
        const Run done = run(row.words);
        CHECK(done.status == row.status);
        CHECK(done.out.empty());
        CHECK_MESSAGE(done.err.starts_with(row.message), done.err);
    }
}
