// gripline history: list, where, export, import, merge, delete.
#include <doctest/doctest.h>

#include <sys/stat.h>

#include <algorithm>
#include <cstdio>
#include <fstream>
#include <nlohmann/json.hpp>

#include "cli/commands.h"
#include "cli/run.h"
#include "practice/attempt_fixture.h"
#include "practice/history_file.h"
#include "practice/history_totals.h"
#include "support/temp_folder.h"

using namespace gripline;
using namespace gripline::test;
namespace fs = std::filesystem;

namespace {

/// A history with so many attempts of any kind, of three players.
void fill(const std::string& file, int count, unsigned seed) {
    std::mt19937 random(seed);
    std::vector<Attempt> attempts;
    for (int i = 0; i < count; ++i) attempts.push_back(random_attempt(random));
    REQUIRE(open_history(file)->history->add(attempts).ok());
}

/// Every attempt of a file, in the order of ids.
std::vector<std::string> all_in(const std::string& file) {
    std::vector<std::string> out;
    REQUIRE(open_history(file)->history->read({}, [&out](const Attempt& a) { out.push_back(all_of(a)); return true; }).ok());
    std::sort(out.begin(), out.end());
    return out;
}

std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> out;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);) out.push_back(line);
    return out;
}

std::string said_by(const std::string& command) {
    std::string out;
    FILE* pipe = popen(command.c_str(), "r");
    REQUIRE(pipe != nullptr);
    for (int c = 0; (c = std::fgetc(pipe)) != EOF;) out += static_cast<char>(c);
    CHECK(pclose(pipe) == 0);
    return out;
}

}  // namespace

TEST_CASE("Exports hold what the tables hold, by Python's own sqlite3, csv and json; imported elsewhere every field is the same") {
    const TempFolder folder;
    const std::string here = folder / "here.sqlite", csv = folder / "out.csv", json = folder / "out.jsonl";
    fill(here, 600, 21);
    CHECK(run({"history", "export", csv, "--history", here}).status == 0);
    CHECK(run({"history", "export", json, "--history", here}).status == 0);
    struct stat status{};
    REQUIRE(stat(csv.c_str(), &status) == 0);
    CHECK((status.st_mode & 0777U) == 0600U);
    CHECK(said_by("/usr/bin/python3 '" GRIPLINE_SOURCE "/tests/cli/history_readers.py' '" + here + "' '" + csv + "' '" + json + "' 2>&1") == "600\n");
    for (const std::string& file : {csv, json}) {
        const std::string there = file + ".sqlite";
        CHECK(run({"history", "import", file, "--history", there}).out == "600 attempts taken over\n");
        CHECK(run({"history", "import", file, "--history", there}).out == "0 attempts taken over, 600 were there already\n");
        CHECK(all_in(there) == all_in(here));
        auto one = open_history(here), other = open_history(there);
        for (const char* player : {"player A", "player B", "player C"}) {
            const auto a = skill_totals(*one->history, player).value(), b = skill_totals(*other->history, player).value();
            REQUIRE(a.size() == b.size());
            for (std::size_t i = 0; i < a.size(); ++i) CHECK(a[i].tally.right == b[i].tally.right);
        }
    }
}

TEST_CASE("An import with one bad line takes over nothing, and names the line") {
    const TempFolder folder;
    const std::string here = folder / "here.sqlite", json = folder / "out.jsonl", there = folder / "there.sqlite";
    fill(here, 50, 4);
    REQUIRE(run({"history", "export", json, "--history", here}).status == 0);
    std::ofstream(json, std::ios::app) << "{\"at\": \"never\"}\n";
    const Run bad = run({"history", "import", json, "--history", there});
    CHECK(bad.status == 1);
    CHECK(bad.err.find("line 51: at: \"never\" is no time") != std::string::npos);
    CHECK(all_in(there).empty());
    CHECK(run({"history", "import", folder / "missing.csv", "--history", there}).status == 1);
    CHECK(run({"history", "export", json, "--history", here}).err.find("say --overwrite") != std::string::npos);
    CHECK(run({"history", "export", folder / "out.txt", "--history", here}).status == 1);
    CHECK(run({"history", "export", json, "--history", here, "--overwrite", "--who", "player A"}).status == 0);
    CHECK(run({"history", "import", json, "--history", there, "--who", "me"}).status == 0);
    CHECK(open_history(there)->history->players()->front().name == "me");
}

TEST_CASE("Two machines' histories merged hold every attempt once, whichever is merged into which") {
    const TempFolder folder;
    const std::string one = folder / "one.sqlite", other = folder / "other.sqlite";
    fill(one, 300, 1);
    fill(other, 200, 2);
    REQUIRE(run({"history", "merge", one, "--history", other}).out == "300 attempts taken over\n");
    CHECK(run({"history", "merge", other, "--history", one}).out == "200 attempts taken over, 300 were there already\n");
    CHECK(all_in(one).size() == 500);
    CHECK(all_in(one) == all_in(other));
    CHECK(run({"history", "merge", one, "--history", one}).status == 1);
    CHECK(run({"history", "merge", folder / "missing", "--history", one}).status == 1);
    std::ofstream(folder / "foreign.sqlite") << "no database, but long enough to be looked at as one";
    CHECK(run({"history", "merge", folder / "foreign.sqlite", "--history", one}).status == 1);
    CHECK(all_in(one).size() == 500);
}

TEST_CASE("Of a damaged history what can be read is taken over, and what could not is said") {
    const TempFolder folder;
    const std::string broken = folder / "broken.sqlite", fresh = folder / "fresh.sqlite";
    fill(broken, 3000, 9);
    const std::vector<std::string> before = all_in(broken);
    int most = 0;
    std::mt19937 random(5);
    for (int round = 0; round < 10; ++round) {
        const std::string copy = folder / ("copy" + std::to_string(round) + ".sqlite"), into = folder / ("into" + std::to_string(round) + ".sqlite");
        fs::copy_file(broken, copy);
        const auto pages = static_cast<unsigned>(fs::file_size(copy) / 4096);
        std::fstream file(copy, std::ios::in | std::ios::out | std::ios::binary);
        file.seekp(static_cast<std::streamoff>(4096) * static_cast<std::streamoff>(pages / 4 + random() % (pages / 2)));
        file.write(std::string(4096, '\x5a').data(), 4096);
        file.close();
        const Run merged = run({"history", "merge", copy, "--history", into});
        const std::vector<std::string> got = all_in(into);
        most = std::max(most, static_cast<int>(got.size()));
        CHECK(std::includes(before.begin(), before.end(), got.begin(), got.end()));  // nothing made up
        if (got.size() < before.size()) CHECK(merged.status == 1);
    }
    CHECK(most > 1500);
}

TEST_CASE("Lists show the latest last, by player, day, quality and verdict") {
    const TempFolder folder;
    const std::string file = folder / "h.sqlite";
    fill(file, 400, 8);
    const auto objects = lines_of(run({"history", "list", "--history", file, "--json", "--latest", "0", "--quality", "7", "--verdict", "wrong", "--who", "player B"}).out);
    std::size_t wanted = 0;
    REQUIRE(open_history(file)->history->read({}, [&](const Attempt& a) { wanted += a.player == "player B" && a.quality == "7" && a.verdict == VerdictKind::wrong; return true; }).ok());
    CHECK(objects.size() == wanted);
    for (const std::string& line : objects) CHECK(nlohmann::json::parse(line).at("verdict") == "wrong");
    CHECK(lines_of(run({"history", "list", "--history", file, "--json"}).out).size() == 20);
    CHECK(lines_of(run({"history", "list", "--history", file}).out).size() == 21);
    const Run none = run({"history", "list", "--history", file, "--from", "2030-01-01"});
    CHECK(none.status == 0);
    CHECK(none.err.find("no such attempts") != std::string::npos);
    CHECK(run({"history", "list", "--history", file, "--from", "2026-13-01"}).status == 1);
    CHECK(run({"history", "list", "--history", file, "--to", "2026-02-30"}).status == 1);
    const auto a_day = lines_of(run({"history", "list", "--history", file, "--json", "--latest", "0", "--from", "2026-11-03", "--to", "2026-11-03"}).out);
    CHECK(!a_day.empty());
    CHECK(a_day.size() < 400);
    CHECK(run({"history"}).status == 2);
    CHECK(run({"history", "list", "--verdict", "maybe"}).status == 2);
}

TEST_CASE("where tells file and players, and makes nothing") {
    const TempFolder folder;
    const std::string file = folder / "sub/h.sqlite";
    const auto none = nlohmann::json::parse(run({"history", "where", "--history", file, "--json"}).out);
    CHECK(none.at("there") == false);
    CHECK(!fs::exists(folder / "sub"));
    fill(file, 100, 3);
    const auto some = nlohmann::json::parse(run({"history", "where", "--history", file, "--json"}).out);
    CHECK(some.at("attempts") == 100);
    CHECK(some.at("players").size() == 3);
    CHECK(run({"history", "where", "--history", file}).out.find("player B") != std::string::npos);
}

TEST_CASE("A player is deleted only when the name is typed again or --yes is said; then nothing of them is left in the file") {
    const TempFolder folder;
    const std::string file = folder / "h.sqlite";
    fill(file, 100, 3);
    HistoryOptions options;
    options.verb = HistoryVerb::delete_player;
    options.history = file;
    options.who = "player B";
    std::ostringstream out, err;
    std::istringstream no("no\n"), nothing(""), yes("player B\n");
    CHECK(history(options, no, out, err) == 1);
    CHECK(history(options, nothing, out, err) == 1);
    CHECK(all_in(file).size() == 100);
    CHECK(history(options, yes, out, err) == 0);
    CHECK(out.str().find("will be deleted for good") != std::string::npos);
    CHECK(run({"history", "delete", "player B", "--history", file, "--yes"}).status == 1);
    CHECK(run({"history", "delete", "player A", "--history", file, "--yes"}).status == 0);
    std::ostringstream bytes;
    for (const char* log : {"", "-wal"}) bytes << std::ifstream(file + log, std::ios::binary).rdbuf();
    CHECK(bytes.str().find("player A") == std::string::npos);
    CHECK(bytes.str().find("player B") == std::string::npos);
    CHECK(bytes.str().find("player C") != std::string::npos);
}

TEST_CASE("A wrong bass is listed with the note that was asked, written as its chord has it") {
    const TempFolder folder;
    const std::string file = folder / "h.sqlite";
    const auto listed = [&](const std::string& chord, const char* root, const char* degree, std::optional<MidiNote> asked) {
        Attempt a = simple_attempt("A", kNovember_ms);
        a.root = NoteName::parse(root).value();
        a.chord = chord;
        a.bass_degree = degree;
        a.verdict = VerdictKind::wrong;
        Fault fault;
        fault.kind = FaultKind::wrong_bass;
        fault.heard = MidiNote(43);
        fault.asked = asked;
        a.faults = {fault};
        fs::remove(file);
        REQUIRE(open_history(file)->history->add(a).ok());
        return run({"history", "list", "--history", file}).out;
    };
    CHECK(listed("C7", "C", "b7", MidiNote(46)).find("Other bass: G heard lowest, Bb asked.") != std::string::npos);
    CHECK(listed("C7", "C", "b7", std::nullopt).find("Other bass: G heard lowest, Bb asked.") != std::string::npos);
    CHECK(listed("A6", "A", "3", std::nullopt).find("Other bass: G heard lowest, C# asked.") != std::string::npos);
    CHECK(listed("A6", "A", "", std::nullopt).find("Other bass: G heard lowest, another asked.") != std::string::npos);
}
