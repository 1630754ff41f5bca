// The history keeps what it is given, once, and its running totals are what counting anew gives.
#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>

#include "practice/attempt_fixture.h"
#include "practice/history.h"
#include "practice/history_file.h"
#include "practice/history_schema.h"
#include "support/temp_folder.h"

using namespace gripline;
using namespace gripline::test;

namespace {

std::vector<Attempt> random_attempts(int count, unsigned seed) {
    std::mt19937 random(seed);
    std::vector<Attempt> attempts;
    for (int i = 0; i < count; ++i) attempts.push_back(random_attempt(random));
    return attempts;
}

std::map<std::string, std::string> all_in(History& history) {
    std::map<std::string, std::string> kept;
    const auto count = history.read({}, [&kept](const Attempt& attempt) {
        kept[attempt.id] = all_of(attempt);
        return true;
    });
    REQUIRE(count.ok());
    CHECK(static_cast<std::size_t>(*count) == kept.size());
    return kept;
}

/// Every row of every running total, as text.
std::vector<std::string> totals_of(Database& database) {
    std::vector<std::string> rows;
    for (const char* table : {"skill_days", "skill_weeks", "skill_totals", "day_totals", "fault_totals", "answer_totals"}) {
        auto names = database.prepare(std::string("SELECT group_concat(iif(type = 'REAL', 'round(' || name || ', 6)', name), ' || '' '' || ') FROM pragma_table_info('") + table + "')");
        REQUIRE(names.ok());
        REQUIRE(names->step());
        auto all = database.prepare("SELECT " + names->text(0) + " FROM " + table + " ORDER BY 1");
        REQUIRE(all.ok());
        while (all->step()) rows.push_back(std::string(table) + " " + all->text(0));
    }
    return rows;
}

}  // namespace

TEST_CASE("three hundred attempts of every kind come back exactly as they went in, whatever their order") {
    auto history = History::in_memory().value();
    const auto attempts = random_attempts(300, 11);
    REQUIRE(history->add(attempts).value().added == 300);
    const auto kept = all_in(*history);
    REQUIRE(kept.size() == 300);
    for (const Attempt& attempt : attempts) CHECK(kept.at(attempt.id) == all_of(attempt));
}

TEST_CASE("an attempt whose id is known is not kept twice, and counts nowhere twice") {
    auto history = History::in_memory().value();
    const auto attempts = random_attempts(40, 3);
    REQUIRE(history->add(attempts).ok());
    const auto before = totals_of(history->database());
    const auto again = history->add(attempts);
    REQUIRE(again.ok());
    CHECK(again->added == 0);
    CHECK(again->already_there == 40);
    CHECK(totals_of(history->database()) == before);
    CHECK(history->attempts().value() == 40);
}

TEST_CASE("running totals are what counting every attempt anew gives") {
    auto history = History::in_memory().value();
    for (const Attempt& attempt : random_attempts(400, 5)) REQUIRE(history->add(attempt).ok());
    const auto running = totals_of(history->database());
    CHECK(running.size() > 400);
    REQUIRE(!rebuild_totals(history->database()));
    CHECK(totals_of(history->database()) == running);
}

TEST_CASE("an attempt without an id is given one: version 7 and variant of RFC 9562, its time first, no two alike") {
    auto history = History::in_memory().value();
    for (int i = 0; i < 50; ++i) REQUIRE(history->add(simple_attempt("A", kNovember_ms)).ok());
    const auto kept = all_in(*history);
    CHECK(kept.size() == 50);
    for (const auto& [id, text] : kept) {
        CHECK(id.substr(0, 12) == "01a196fb1600");  // printf %012x 1793534400000
        CHECK(id[12] == '7');
        CHECK(std::string("89ab").find(id[16]) != std::string::npos);
    }
}

TEST_CASE("the latest attempts, those of one player, and those of a time are found") {
    auto history = History::in_memory().value();
    for (int i = 0; i < 20; ++i) REQUIRE(history->add(simple_attempt(i % 2 == 0 ? "A" : "B", kNovember_ms + 1000 * i)).ok());
    const auto times = [&history](const AttemptFilter& filter) {
        std::vector<std::int64_t> seconds;
        REQUIRE(history->read(filter, [&seconds](const Attempt& a) { seconds.push_back((a.at_ms - kNovember_ms) / 1000); return true; }).ok());
        return seconds;
    };
    CHECK(times({"A", {}, {}, 3}) == std::vector<std::int64_t>{14, 16, 18});
    CHECK(times({"B", kNovember_ms + 15'000, {}, {}}) == std::vector<std::int64_t>{15, 17, 19});
    CHECK(times({"", kNovember_ms + 4'000, kNovember_ms + 7'000, {}}) == std::vector<std::int64_t>{4, 6, 5});
    CHECK(times({"nobody", {}, {}, {}}).empty());
}

TEST_CASE("a deleted player is gone for good: no row, no total, no byte of the name in the file; the others stay") {
    const TempFolder folder;
    const auto file = folder.path() / "gripline" / "history.sqlite";
    {
        auto history = std::move(open_history(file).value().history);
        for (int i = 0; i < 200; ++i) {
            Attempt attempt = simple_attempt(i % 2 == 0 ? "Zebulon-gone" : "Stays", kNovember_ms + i * 1000);
            attempt.guitar = i % 2 == 0 ? "Zebulon-guitar" : "plain";
            REQUIRE(history->add(attempt).ok());
        }
        const auto deleted = history->delete_player("Zebulon-gone");
        REQUIRE_MESSAGE(deleted.ok(), deleted.error().message);
        CHECK(*deleted == 100);
        const auto players = history->players().value();
        REQUIRE(players.size() == 1);
        CHECK(players[0].name == "Stays");
        CHECK(players[0].attempts == 100);
        CHECK(history->attempts().value() == 100);
        CHECK(!history->delete_player("Zebulon-gone").ok());
        CHECK(!history->check_whole());
    }
    for (const auto& entry : std::filesystem::directory_iterator(file.parent_path())) {
        std::ifstream in(entry.path(), std::ios::binary);
        const std::string bytes{std::istreambuf_iterator<char>(in), {}};
        CHECK_MESSAGE(bytes.find("Zebulon") == std::string::npos, entry.path().string());
    }
}

TEST_CASE("attempts past a limit are refused with field, value and limit, and nothing of the whole bundle is kept") {
    auto history = History::in_memory().value();
    const struct { const char* says; void (*spoil)(Attempt&); } rows[] = {
        {"a name is wanted", [](Attempt& a) { a.player = "  "; }},
        {"at most 64", [](Attempt& a) { a.player = std::string(65, 'x'); }},
        {"control character", [](Attempt& a) { a.guitar = "bell\a"; }},
        {"no UTF-8", [](Attempt& a) { a.player = "caf\xe9"; }},
        {"no UTF-8", [](Attempt& a) { a.chord = "\xc0\xaf"; }},        // an overlong slash
        {"no UTF-8", [](Attempt& a) { a.input = "\xed\xa0\x80"; }},    // half a surrogate pair
        {"32 hex digits", [](Attempt& a) { a.id = "12"; }},
        {"2000 to 2199", [](Attempt& a) { a.at_ms = 12; }},
        {"east of UTC", [](Attempt& a) { a.utc_offset_min = 900; }},
        {"confidence", [](Attempt& a) { a.confidence = 1.01; }},
        {"confidence", [](Attempt& a) { a.confidence = std::nan(""); }},
        {"tempo", [](Attempt& a) { a.tempo_bpm = 0.0; }},
        {"motion", [](Attempt& a) { a.motion = 2; }},
        {"only an approach", [](Attempt& a) { a.from = From::below; }},
        {"string of a fault", [](Attempt& a) { a.faults.emplace_back().string = StringNumber(8); }},
        {"17 faults", [](Attempt& a) { a.faults.resize(17); }},
        {"17 notes", [](Attempt& a) { a.heard.resize(17); }},
        {"off the beat", [](Attempt& a) { a.off_ms = INFINITY; }},
        {"seconds to answer", [](Attempt& a) { a.answer_s = -0.1; }},
        {"try", [](Attempt& a) { a.try_number = 0; }},
    };
    for (const auto& row : rows) {
        std::vector<Attempt> bundle{simple_attempt("A", kNovember_ms), simple_attempt("A", kNovember_ms)};
        row.spoil(bundle[1]);
        const auto added = history->add(bundle);
        CAPTURE(row.says);
        REQUIRE(!added.ok());
        CHECK_MESSAGE(added.error().message.find(row.says) != std::string::npos, added.error().message);
    }
    CHECK(history->attempts().value() == 0);
}
