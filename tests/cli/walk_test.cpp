// gripline walk, end to end: takes of our own plucked strings with known grips, instants and mistakes.
#include <doctest/doctest.h>

#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "audio/metronome.h"
#include "cli/run.h"
#include "dsp/strums.h"
#include "support/temp_folder.h"
#include "support/wav_file.h"

using namespace gripline;
using namespace gripline::test;

namespace {

std::vector<nlohmann::json> lines_of(const Run& done) {
    CHECK_MESSAGE(done.status == 0, done.err);
    std::vector<nlohmann::json> out;
    std::istringstream in(done.out);
    for (std::string line; std::getline(in, line);) out.push_back(nlohmann::json::parse(line));
    return out;
}

/// A beat as it is played: which grip (empty: left out) and how many ms off.
struct Played {
    std::string grip;
    double off_ms = 0.0;
};

constexpr double kStart_s = 1.0;

std::vector<float> take_of(const std::vector<Played>& played, double tempo_bpm, double tail_s = 1.0) {
    std::vector<test::PlannedStrum> strums;
    const double count_s = 60.0 / tempo_bpm;
    for (std::size_t i = 0; i < played.size(); ++i) {
        if (played[i].grip.empty()) continue;
        strums.push_back({.at_s = kStart_s + count_s * static_cast<double>(i) + played[i].off_ms / 1000.0, .grip = played[i].grip, .spread_s = 0.012 + 0.002 * static_cast<double>(i % 5), .down = i % 4 != 3});
    }
    return test::play(strums, kStart_s + count_s * static_cast<double>(played.size()) + tail_s);
}

void write_take(const std::string& path, const std::vector<Played>& played, double tempo_bpm, double tail_s = 1.0) {
    test::write_wav(path, take_of(played, tempo_bpm, tail_s), 48000);
}

/// The grips of the line that `gripline line` builds with these words.
std::vector<std::string> grips_of(std::vector<std::string> words) {
    words.insert(words.begin(), "line");
    words.push_back("--json");
    std::vector<std::string> out;
    for (const auto& beat : lines_of(run(words))) out.push_back(beat["grip"]);
    return out;
}

std::string one_fret_up(const std::string& text, int string) {
    Grip grip = Grip::parse(text).value();
    const auto fret = grip.fret(StringNumber(string));
    REQUIRE(fret.has_value());
    grip.set(StringNumber(string), fret->up(1));
    return grip.text();
}

}  // namespace

TEST_CASE("a take of a line with planted mistakes: each beat's verdict, and its time within 10 ms") {
    const test::TempFolder folder;
    const auto grips = grips_of({"two-five-one-major", "--strings", "6-4-3"});
    for (const double tempo_bpm : {100.0, 160.0, 240.0}) {
        CAPTURE(tempo_bpm);
        std::vector<Played> played;
        for (std::size_t i = 0; i < grips.size(); ++i) played.push_back({grips[i], static_cast<double>(i * 37 % 81) - 40.0});
        const std::size_t left_out = 5, sharp = 9;
        played[left_out].grip.clear();
        played[sharp].grip = one_fret_up(grips[sharp], 4);
        const std::string take = folder / "take.wav";
        write_take(take, played, tempo_bpm);
        const auto lines = lines_of(run({"walk", "two-five-one-major", "--strings", "6-4-3", "--tempo", std::to_string(static_cast<int>(tempo_bpm)), "--input", take, "--start-s", "1", "--json"}));
        REQUIRE(lines.size() == grips.size() + 1);
        for (std::size_t i = 0; i < grips.size(); ++i) {
            CAPTURE(i);
            const auto& line = lines[i];
            CHECK(line["bar"] == 1 + i / 4);
            CHECK(line["beat"] == 1 + i % 4);
            CHECK(line["grip"] == grips[i]);
            CHECK(line["at_s"].get<double>() == doctest::Approx(kStart_s + 60.0 / tempo_bpm * static_cast<double>(i)).epsilon(1e-4));
            CHECK(line["verdict"] == (i == left_out ? "unheard" : i == sharp ? "wrong" : "right"));
            CHECK(line["off_ms"].is_null() == (i == left_out));
            if (i == left_out) continue;
            CHECK(std::abs(line["off_ms"].get<double>() - played[i].off_ms) <= 10.0);
            CHECK(line["faults"].empty() == (i != sharp));
        }
        CHECK(lines[sharp]["faults"][0]["kind"] == "wrong_note");
        CHECK(lines[sharp]["faults"][0]["string"] == 4);
        CHECK(lines[sharp]["faults"][0]["frets"] == 1);
        const auto& sum = lines.back();
        CHECK(sum["beats"] == grips.size());
        CHECK(sum["right"] == grips.size() - 2);
        CHECK(sum["wrong"] == 1);
        CHECK(sum["unheard"] == 1);
        CHECK(sum["faults"]["wrong_note"] == 1);
        CHECK(sum["suggestion"].is_string());
    }
}

TEST_CASE("with --who the beats of a take are kept, the same take twice without doubles; without it nothing is") {
    const test::TempFolder folder;
    const std::string chart = folder / "own.chart", take = folder / "take.wav", history = folder / "h.sqlite";
    std::ofstream(chart) << "| C7 | F7 |\n";
    const auto grips = grips_of({chart});
    REQUIRE(grips.size() == 8);
    std::vector<Played> played;
    for (std::size_t i = 0; i < grips.size(); ++i) played.push_back({i == 2 ? one_fret_up(grips[i], 4) : i == 5 ? "" : grips[i]});
    write_take(take, played, 100.0);
    const std::vector<std::string> words{"walk", chart, "--tempo", "100", "--input", take, "--start-s", "1", "--json", "--history", history};
    const auto lines = lines_of(run(words));
    CHECK(!std::ifstream(history).is_open());
    for (const char* told : {"8 beats kept for me\n", "0 beats kept for me, 8 were there already\n"}) {
        auto with = words;
        with.insert(with.end(), {"--who", "me", "--guitar", "archtop"});
        CHECK(run(with).err == told);
    }
    const auto kept = lines_of(run({"history", "list", "--json", "--history", history}));
    REQUIRE(kept.size() == 8);
    for (std::size_t i = 0; i < kept.size(); ++i) {
        CAPTURE(i);
        CHECK(kept[i]["grip"] == grips[i]);
        CHECK(kept[i]["verdict"] == lines[i]["verdict"]);
        CHECK(kept[i]["root"] == (i < 3 ? "C" : "F"));  // an approach trains the chord that it leads to
        CHECK(kept[i]["tempo_bpm"] == 100.0);
        CHECK(kept[i]["off_ms"].is_null() == (i == 5));
        if (i == 3) CHECK(kept[i]["place"] == "approach");
    }
    CHECK(kept[2]["faults"][0]["string"] == 4);
}

TEST_CASE("locked beats and a list of grips are what is asked") {
    const test::TempFolder folder;
    const std::string chart = folder / "own.chart", list = folder / "grips.txt", take = folder / "take.wav";
    std::ofstream(chart) << "| C7 |\n";
    std::ofstream(list) << "# shells\n8x89xx 7x67xx\n6x55xx 10-x-9-10-x-x\n";
    write_take(take, {{"8x89xx"}, {"7x67xx"}, {"6x55xx"}, {"10-x-9-10-x-x"}}, 120.0);
    const auto listed = lines_of(run({"walk", chart, "--tempo", "120", "--input", take, "--start-s", "1", "--grips", list, "--json"}));
    REQUIRE(listed.size() == 5);
    CHECK(listed.back()["right"] == 4);
    const auto locked = lines_of(run({"walk", chart, "--tempo", "120", "--input", take, "--start-s", "1", "--lock", "1.1=8x89xx", "--lock", "1.2=7x67xx", "--lock", "1.3=6x55xx", "--lock", "1.4=10-x-9-10-x-x", "--json"}));
    REQUIRE(locked.size() == 5);
    CHECK(locked.back()["right"] == 4);
}

TEST_CASE("the tool's own click in the take, as loud as the guitar, changes neither verdict nor time") {
    const test::TempFolder folder;
    const std::string chart = folder / "own.chart", take = folder / "take.wav";
    std::ofstream(chart) << "| C7 | % |\n";
    const auto grips = grips_of({chart});
    REQUIRE(grips.size() == 8);
    for (const double tempo_bpm : {90.0, 240.0}) {
        CAPTURE(tempo_bpm);
        std::vector<Played> played;
        for (std::size_t i = 0; i < grips.size(); ++i) played.push_back({i == 6 ? "" : grips[i], i % 2 == 0 ? 40.0 : -40.0});
        auto frames = take_of(played, tempo_bpm);
        Metronome click({.rate_hz = 48000, .beats_per_minute = tempo_bpm, .beats_per_bar = 4, .peak_db = -12.0});
        const auto start = static_cast<std::size_t>(kStart_s * 48000);
        click.process(std::span(frames).subspan(start));
        test::write_wav(take, frames, 48000);
        const auto lines = lines_of(run({"walk", chart, "--tempo", std::to_string(static_cast<int>(tempo_bpm)), "--input", take, "--start-s", "1", "--json"}));
        REQUIRE(lines.size() == 9);
        for (std::size_t i = 0; i < grips.size(); ++i) {
            CAPTURE(i);
            CHECK(lines[i]["verdict"] == (i == 6 ? "unheard" : "right"));
            if (i != 6) CHECK(std::abs(lines[i]["off_ms"].get<double>() - played[i].off_ms) <= 10.0);
        }
    }
}

TEST_CASE("six eighths: counts are eighths, at the tempo asked") {
    const test::TempFolder folder;
    const std::string chart = folder / "six.chart", take = folder / "take.wav";
    std::ofstream(chart) << "meter: 6/8\n| C7 |\n";
    const auto grips = grips_of({chart});
    REQUIRE(grips.size() == 6);
    std::vector<Played> played;
    for (const std::string& grip : grips) played.push_back({grip});
    write_take(take, played, 180.0);
    const auto lines = lines_of(run({"walk", chart, "--tempo", "180", "--input", take, "--start-s", "1", "--json"}));
    REQUIRE(lines.size() == 7);
    CHECK(lines.back()["right"] == 6);
}

TEST_CASE("a take that ends early: its beats are marked, and the message says where it ends") {
    const test::TempFolder folder;
    const std::string take = folder / "take.wav";
    auto grips = grips_of({"blues"});
    grips.resize(6);
    std::vector<Played> played;
    for (const std::string& grip : grips) played.push_back({grip});
    write_take(take, played, 120.0, 0.0);
    const Run done = run({"walk", "blues", "--tempo", "120", "--input", take, "--start-s", "1", "--json"});
    const auto lines = lines_of(done);
    CHECK(lines.size() == 7);
    CHECK(lines.back()["beats"] == 6);
    CHECK(done.err.find("the take ends at 4.00 s, before bar 2, beat 3 of the chart") != std::string::npos);
    CHECK(done.err.find("last beat lies at 24.50 s") != std::string::npos);
    const Run none = run({"walk", "blues", "--tempo", "120", "--input", take, "--start-s", "50", "--json"});
    CHECK(none.status == 1);
    CHECK(none.out.empty());
    CHECK(none.err.find("--start-s") != std::string::npos);
}

TEST_CASE("text for the eye: a row for each beat, the whole, one suggestion") {
    const test::TempFolder folder;
    const std::string take = folder / "take.wav";
    const auto grips = grips_of({"two-five-one-short"});
    std::vector<Played> played;
    for (const std::string& grip : grips) played.push_back({grip});
    write_take(take, played, 120.0);
    const Run done = run({"walk", "two-five-one-short", "--tempo", "120", "--input", take, "--start-s", "1"});
    CHECK(done.status == 0);
    CHECK(done.out.starts_with("beat "));
    CHECK(done.out.find("\n1.1 ") != std::string::npos);
    CHECK(done.out.find(std::to_string(grips.size()) + " beats: " + std::to_string(grips.size()) + " right, 0 wrong, 0 unheard.\n") != std::string::npos);
    CHECK(done.out.find("\nTime: ") != std::string::npos);
    CHECK(done.out.find("\nNext: All right and in time: try it at 125 a minute.\n") != std::string::npos);
}

TEST_CASE("what is refused, and how") {
    const test::TempFolder folder;
    const std::string take = folder / "take.wav", few = folder / "few.txt", odd = folder / "odd.txt", mute = folder / "mute.txt";
    write_take(take, {{"3x23xx"}}, 120.0);
    std::ofstream(few) << "8x89xx\n";
    std::ofstream(odd) << "8x89xx\n8x8\n";
    std::ofstream(mute) << "xxxxxx\n";
    struct Row {
        std::vector<std::string> words;
        int status;
        std::string message;
    };
    const std::vector<Row> rows{
        {{"walk", "blues", "--tempo", "39", "--input", take}, 2, "gripline: --tempo: \"39\" is not allowed; 40 to 300 counts a minute is"},
        {{"walk", "blues", "--tempo", "301", "--input", take}, 2, "gripline: --tempo: "},
        {{"walk", "blues", "--tempo", "nan", "--input", take}, 2, "gripline: --tempo: "},
        {{"walk", "blues", "--input", take, "--start-s", "-1"}, 2, "gripline: --start-s: "},
        {{"walk", "blues", "--input", take, "--player"}, 2, "gripline: --input excludes --player"},
        {{"walk", "blues", "--input", take, "--bars", "1-2"}, 2, "gripline: --input excludes --bars"},
        {{"walk", "blues", "--start-s", "1"}, 2, "gripline: --start-s requires --input"},
        {{"walk", "blues", "--bars", "5-3"}, 1, "gripline: --bars: \"5-3\" names no bars of the chart; bars as played are 1 to 12"},
        {{"walk", "blues", "--bars", "13"}, 1, "gripline: --bars: \"13\" names no bars"},
        {{"walk", "blues", "--click", "loud"}, 2, "gripline: --click: "},
        {{"walk", "blues", "--step", "51"}, 2, "gripline: --step: \"51\" is not allowed; 0 to 50 counts a minute is"},
        {{"walk", "blues", "--limit", "301"}, 2, "gripline: --limit: "},
        {{"walk", "blues", "--volume-db", "19"}, 2, "gripline: --volume-db: "},
        {{"walk", "blues", "--count-in", "5"}, 2, "gripline: --count-in: "},
        {{"walk", "blues", "--answer", "--play-it"}, 2, "gripline: --"},
        {{"walk", "blues", "--report", few}, 1, "gripline: --report: " + few + " exists; --overwrite replaces it"},
        {{"walk", "blues", "--report", folder / "no/such/report"}, 1, "gripline: --report: there is no folder " + (folder / "no/such") + "; make it first"},
        {{"walk", "blues", "--count-in", "0"}, 2, "gripline: --count-in: \"0\" is not allowed; 1 to 4 bars is"},
        {{"calibrate", "--volume-db", "19"}, 2, "gripline: --volume-db: "},
        {{"walk", "--tempo", "120", "--input", take}, 2, "gripline: CHART is required"},
        {{"walk", "blues", "--input", folder / "none.wav"}, 1, "gripline: " + (folder / "none.wav")},
        {{"walk", "blues", "--input", few}, 1, "gripline: " + few},
        {{"walk", "no-such-chart", "--input", take}, 1, "gripline: \"no-such-chart\" is no file"},
        {{"walk", "blues", "--input", take, "--key", "H"}, 1, "gripline: --key: "},
        {{"walk", "blues", "--input", take, "--lock", "1.1"}, 1, "gripline: --lock: "},
        {{"walk", "blues", "--input", take, "--grips", few}, 1, "gripline: " + few + ": 1 grips, but blues has 48 beats to play"},
        {{"walk", "blues", "--input", take, "--grips", odd}, 1, "gripline: " + odd + ": line 2, grip 2: "},
        {{"walk", "blues", "--input", take, "--grips", mute}, 1, "gripline: " + mute + ": line 1, grip 1: \"xxxxxx\" sounds no string"},
        {{"walk", "blues", "--input", take, "--grips", folder / "none.txt"}, 1, "gripline: " + (folder / "none.txt") + ": can't be read"},
    };
    for (const Row& row : rows) {
        CAPTURE(row.message);
        const Run done = run(row.words);
        CHECK(done.status == row.status);
        CHECK(done.out.empty());
        CHECK_MESSAGE(done.err.starts_with(row.message), done.err);
    }
}
