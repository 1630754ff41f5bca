// gripline progress on a history of a made-up player who is weak at approaches from above in E.
#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <ctime>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "cli/run.h"
#include "practice/attempt_fixture.h"
#include "formats/progress_page.h"
#include "practice/history_file.h"
#include "support/progress_source.h"
#include "support/temp_folder.h"

using namespace gripline;
using namespace gripline::test;

namespace {

const std::string kHostile = "<script>alert(1)</script> & \"x\"";

/// Forty right chords and forty approaches from above in E of which two are right, over the last ten days.
void fill_history(const std::string& player) {
    auto opened = open_history(history_path());
    REQUIRE(opened.ok());
    std::vector<Attempt> attempts;
    const std::int64_t now_ms = static_cast<std::int64_t>(std::time(nullptr)) * 1000;
    for (int i = 0; i < 80; ++i) {
        Attempt one = simple_attempt(player, now_ms - (80 - i) * std::int64_t{10'800'000}, i % 2 == 0 || i % 40 == 1 ? VerdictKind::right : VerdictKind::wrong);
        if (i % 2 == 1) {
            one.place = Sounds::approach;
            one.from = From::above;
            one.root = NoteName::parse("E").value();
            if (one.verdict == VerdictKind::wrong) one.faults = {{.kind = FaultKind::wrong_note, .string = StringNumber(4), .frets = -1, .asked = MidiNote(58), .heard = MidiNote(57), .probability = 0.9}};
        }
        attempts.push_back(one);
    }
    REQUIRE(opened->history->add(attempts).ok());
}

std::string whole_file(const std::string& path) {
    std::ostringstream out;
    out << std::ifstream(path, std::ios::binary).rdbuf();
    return out.str();
}

struct DataHome {
    TempFolder folder;
    DataHome() { setenv("XDG_DATA_HOME", folder.path().c_str(), 1); }
    ~DataHome() { unsetenv("XDG_DATA_HOME"); }
};

}  // namespace

TEST_CASE("progress without a history says so, and makes no file") {
    const DataHome home;
    const Run none = run({"progress"});
    CHECK(none.status == 1);
    CHECK(none.err.find("nothing was kept yet") != std::string::npos);
    CHECK(std::filesystem::is_empty(home.folder.path()));
    CHECK(run({"progress", "--json", "--csv"}).status == 2);
    CHECK(run({"progress", "--overwrite"}).status == 2);
}

TEST_CASE("progress tells the same numbers as text, JSON and CSV") {
    const DataHome home;
    fill_history("player A");
    const Run text = run({"progress"});
    CHECK(text.status == 0);
    CHECK(text.out.find("Progress of player A") != std::string::npos);
    CHECK(text.out.find("5% ██ of 40") != std::string::npos);
    CHECK(text.out.find("3 min: 7, from above") != std::string::npos);
    const Run json = run({"progress", "--json"});
    CHECK(json.status == 0);
    CHECK(json.err.empty());
    int cells = 0, keys = 0, weeks = 0, minutes = 0;
    std::istringstream lines(json.out);
    for (std::string line; std::getline(lines, line);) {
        const auto object = nlohmann::json::parse(line);
        cells += object["what"] == "cell";
        weeks += object["what"] == "week";
        if (object["what"] == "plan") minutes += object["minutes"].get<int>();
        if (object["what"] == "key") ++keys;
        if (object["what"] == "key" && object["key"] == "E") {
            CHECK(object["right"] == 2);
            CHECK(object["of"] == 40);
            CHECK(object["standing"] == "weak");
            CHECK(object["high"].get<double>() == doctest::Approx(0.165).epsilon(0.01));  // Wilson, 2 of 40: 0.0138 to 0.1650 (statsmodels 0.13.5)
        }
        if (object["what"] == "string") {
            CHECK(object["string"] == 4);
            CHECK(object["frets_off"]["-1"] == 38);
        }
        if (object["what"] == "all") CHECK(object["faults"][0] == "string 4, one fret flat: 38");
    }
    CHECK(cells == 4);
    CHECK(keys == 12);
    CHECK(weeks == 26);
    CHECK(minutes == 10);
    const Run csv = run({"progress", "--csv"});
    CHECK(csv.out.find("cell,\"7\",from above,,,2,40,0.05,0.0138,0.165,weak,,,,,\r\n") != std::string::npos);
    CHECK(csv.out.find("what,quality,place,key,monday,right,of,rate,low,high,standing,string,fault,times,tempo_bpm,question\r\n") == 0);
    CHECK(csv.out.find("string,,,,,,,,,,,4,-1,38,,\r\n") != std::string::npos);
    std::istringstream rows(csv.out);
    for (std::string row; std::getline(rows, row);) CHECK_MESSAGE(std::count(row.begin(), row.end(), ',') == 15, row);
    const Run other = run({"progress", "--who", "player B"});
    CHECK(other.status == 1);
    CHECK(other.err.find("known: \"player A\"") != std::string::npos);
}

TEST_CASE("Name-it stands question by question in JSON, CSV and on the page") {
    const Progress progress = count_progress(test::planted_source(), {});
    std::ostringstream json, csv, page;
    write_progress_json(progress, {}, json);
    write_progress_csv(progress, csv);
    write_progress_page(progress, {}, page);
    std::istringstream lines(json.str());
    int questions = 0;
    for (std::string line; std::getline(lines, line);) {
        const auto object = nlohmann::json::parse(line);
        if (object["what"] != "question" || object["question"] != "quality") continue;
        ++questions;
        CHECK(object["right"] == 16);
        CHECK(object["of"] == 20);
        CHECK(object["mixed_up"][0]["asked"] == "m6");
        CHECK(object["mixed_up"][0]["answered"] == "6");
        CHECK(object["mixed_up"][0]["times"] == 4);
    }
    CHECK(questions == 1);
    CHECK(csv.str().find("question,,,,,16,20,0.8,0.584,0.9193,between,,,,,\"quality\"\r\n") != std::string::npos);
    CHECK(page.str().find("<li>quality: 80 % of 20 (58 to 92 %); m6 called 6: 4 times</li>") != std::string::npos);
}

TEST_CASE("The page escapes names, asks nothing of the network, runs no script, and is not written over unasked") {
    const DataHome home;
    fill_history(kHostile);
    const std::string page = home.folder / "page.html";
    CHECK(run({"progress", "--html", page}).status == 0);
    const std::string text = whole_file(page);
    CHECK(text.find("<script") == std::string::npos);
    CHECK(text.find("<tr><th scope=\"row\">4</th><td>-</td><td>-</td><td>38</td>") != std::string::npos);  // string 4, one fret flat
    CHECK(text.find("&lt;script&gt;alert(1)&lt;/script&gt; &amp; &quot;x&quot;") != std::string::npos);
    for (const char* outside : {"http:", "https:", "src=", "href=", "@import", "javascript:", "onload"}) CHECK(text.find(outside) == std::string::npos);
    CHECK(text.find("<svg id=\"keys\"") != std::string::npos);
    CHECK(text.find("<svg id=\"weeks\"") != std::string::npos);
    const Run again = run({"progress", "--html", page});
    CHECK(again.status == 1);
    CHECK(again.err.find("--overwrite") != std::string::npos);
    CHECK(run({"progress", "--html", page, "--overwrite"}).status == 0);
    CHECK(run({"progress", "--html", home.folder / "no/such/page.html"}).status == 1);
}
