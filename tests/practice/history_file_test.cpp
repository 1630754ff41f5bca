// The file of the history: private, carried from version to version, set aside when damaged, and never overwritten.
#include <doctest/doctest.h>

#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <fstream>

#include "practice/attempt_fixture.h"
#include "practice/history_file.h"
#include "practice/history_totals.h"
#include "practice/history_schema.h"
#include "support/temp_folder.h"

using namespace gripline;
using namespace gripline::test;
namespace fs = std::filesystem;

namespace {

std::string bytes_of(const fs::path& file) {
    std::ifstream in(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

void write_bytes(const fs::path& file, const std::string& bytes) {
    fs::create_directories(file.parent_path());
    std::ofstream(file, std::ios::binary) << bytes;
}

unsigned mode_of(const fs::path& path) {
    struct stat status{};
    REQUIRE(stat(path.c_str(), &status) == 0);
    return status.st_mode & 0777U;
}

std::vector<fs::path> files_with(const fs::path& folder, const std::string& word) {
    std::vector<fs::path> found;
    for (const auto& entry : fs::directory_iterator(folder)) {
        const std::string name = entry.path().filename().string();
        if (name.find(word) != std::string::npos && name.ends_with(".sqlite")) found.push_back(entry.path());
    }
    return found;
}

void fill(const fs::path& file, int count) {
    auto opened = open_history(file);
    REQUIRE_MESSAGE(opened.ok(), opened.error().message);
    CHECK(opened->notice == "");
    for (int i = 0; i < count; ++i) REQUIRE(opened->history->add(simple_attempt("A", kNovember_ms + i)).ok());
}

/// Runs `check` in a child that may not write where others may not; its exit status, 0 when all held.
template <class Check>
int as_nobody(Check check) {
    const pid_t child = fork();
    if (child == 0) {
        if (geteuid() == 0 && (setgid(65534) != 0 || setuid(65534) != 0)) _exit(99);
        _exit(check());
    }
    int status = 0;
    waitpid(child, &status, 0);
    return WIFEXITED(status) ? WEXITSTATUS(status) : 98;
}

}  // namespace

TEST_CASE("folder and file are private to the user, the log beside the file too, whatever the umask") {
    const TempFolder folder;
    const mode_t before = umask(0);
    const auto file = folder.path() / "data" / "gripline" / "history.sqlite";
    auto opened = open_history(file);
    umask(before);
    REQUIRE(opened.ok());
    REQUIRE(opened->history->add(simple_attempt("A", kNovember_ms)).ok());
    CHECK(mode_of(file.parent_path()) == 0700);
    CHECK(mode_of(file) == 0600);
    CHECK(mode_of(file.string() + "-wal") == 0600);
    CHECK(mode_of(file.string() + "-shm") == 0600);
    opened->history.reset();
    REQUIRE(chmod(file.c_str(), 0644) == 0);
    REQUIRE(open_history(file).ok());
    CHECK(mode_of(file) == 0600);
}

TEST_CASE("the path follows the XDG Base Directory Specification: XDG_DATA_HOME when absolute, else ~/.local/share") {
    const TempFolder folder;
    const std::string home = std::getenv("HOME") != nullptr ? std::getenv("HOME") : "";
    setenv("XDG_DATA_HOME", (folder / "d").c_str(), 1);
    CHECK(history_path() == folder.path() / "d" / "gripline" / "history.sqlite");
    setenv("XDG_DATA_HOME", "relative", 1);
    setenv("HOME", (folder / "h").c_str(), 1);
    CHECK(history_path() == folder.path() / "h" / ".local" / "share" / "gripline" / "history.sqlite");
    unsetenv("XDG_DATA_HOME");
    unsetenv("HOME");
    CHECK(history_path().empty());
    CHECK(!open_history(history_path()).ok());
    setenv("HOME", home.c_str(), 1);
}

TEST_CASE("a damaged file is set aside byte for byte, said, and a new history begun; each of them stays") {
    const TempFolder folder;
    const auto file = folder.path() / "gripline" / "history.sqlite";
    fill(file, 300);
    const std::string whole = bytes_of(file);
    REQUIRE(whole.size() > 40'000);
    std::string torn = whole, scribbled = whole, headless = whole;
    torn.resize(whole.size() / 2 + 100);
    for (std::size_t at = 8192; at < 20'000; ++at) scribbled[at] = static_cast<char>(at * 7);
    headless.replace(0, 16, "no history at all");
    std::size_t aside = 0;
    for (const std::string& damaged : {torn, scribbled, headless, std::string("just some text"), std::string(100'000, '\xff')}) {
        write_bytes(file, damaged);
        auto opened = open_history(file);
        REQUIRE_MESSAGE(opened.ok(), opened.error().message);
        CHECK(opened->history->attempts().value() == 0);
        CHECK(opened->history->add(simple_attempt("A", kNovember_ms)).ok());
        CHECK_MESSAGE(opened->notice.find("damaged") != std::string::npos, opened->notice);
        const auto kept = files_with(file.parent_path(), ".damaged-");
        CHECK(kept.size() >= 1);
        bool found = false;
        for (const auto& each : kept) found = found || bytes_of(each) == damaged;
        CHECK(found);
        opened->history.reset();
        for (const auto& each : kept) fs::rename(each, folder.path() / ("kept" + std::to_string(aside++)));
    }
}

TEST_CASE("another program's database is not taken for a history") {
    const TempFolder folder;
    const auto file = folder.path() / "history.sqlite";
    write_bytes(file, "");
    {
        auto other = Database::open(file, Database::Access::read_write).value();
        REQUIRE(!other->run("CREATE TABLE recipes (name TEXT); INSERT INTO recipes VALUES ('soup')"));
    }
    const std::string before = bytes_of(file);
    auto opened = open_history(file);
    REQUIRE(opened.ok());
    CHECK(opened->notice.find("no history of gripline") != std::string::npos);
    const auto kept = files_with(folder.path(), ".damaged-");
    REQUIRE(kept.size() == 1);
    auto other = Database::open(kept[0], Database::Access::read_only).value();
    CHECK(other->text("SELECT name FROM recipes").value() == "soup");
}

TEST_CASE("a newer gripline's file is refused and left as it is") {
    const TempFolder folder;
    const auto file = folder.path() / "history.sqlite";
    fill(file, 3);
    { REQUIRE(!Database::open(file, Database::Access::read_write).value()->run("PRAGMA user_version = 99")); }
    const std::string before = bytes_of(file);
    const auto opened = open_history(file);
    REQUIRE(!opened.ok());
    CHECK_MESSAGE(opened.error().message.find("newer gripline (version 99") != std::string::npos, opened.error().message);
    CHECK(bytes_of(file) == before);
    CHECK(files_with(folder.path(), "damaged").empty());
}

TEST_CASE("a history of version 1 is brought to this version with all that is in it, and a copy of the old one is kept") {
    const TempFolder folder;
    const auto file = folder.path() / "history.sqlite";
    write_bytes(file, "");
    std::ifstream sql(GRIPLINE_FIXTURES "/history/version-1.sql");
    const std::string version_1{std::istreambuf_iterator<char>(sql), {}};
    REQUIRE(version_1.size() > 1000);
    { REQUIRE(!Database::open(file, Database::Access::read_write).value()->run(version_1)); }
    std::vector<std::string> seen;
    {
        auto opened = open_history(file);
        REQUIRE_MESSAGE(opened.ok(), opened.error().message);
        CHECK_MESSAGE(opened->notice.find("from version 1 to") != std::string::npos, opened->notice);
        History& history = *opened->history;
        CHECK(history.database().number("PRAGMA user_version").value() == history_version());
        REQUIRE(history.read({}, [&seen](const Attempt& a) { seen.push_back(a.player + " " + a.chord + " " + a.grip.text() + " " + word(a.verdict) + " " + std::to_string(a.faults.size())); return true; }).ok());
        CHECK(seen == std::vector<std::string>{"Ada C7 8x89xx right 0", "Ada Bdim7 10-x-9-10-x-x wrong 2", "Ben Gb7 2x34xx unheard 0"});
        CHECK(history.attempts().value() == 3);  // the totals, which version 1 did not have, are counted
        CHECK(history.add(simple_attempt("Ada", kNovember_ms)).ok());
        CHECK(!history.check_whole());
    }
    const auto copies = history_copies(file);
    REQUIRE(copies.size() == 1);
    CHECK(mode_of(copies[0]) == 0600);
    auto copy = Database::open(copies[0], Database::Access::read_only).value();
    CHECK(copy->number("PRAGMA user_version").value() == 1);
    CHECK(copy->number("SELECT count(*) FROM attempts").value() == 3);
    CHECK(open_history(file)->notice == "");
}

TEST_CASE("a history of version 2 is brought to this version: its totals stay as they are, and tempos, which it did not count, are counted") {
    const TempFolder folder;
    const auto file = folder.path() / "history.sqlite";
    write_bytes(file, "");
    std::ifstream sql(GRIPLINE_FIXTURES "/history/version-2.sql");
    const std::string version_2{std::istreambuf_iterator<char>(sql), {}};
    REQUIRE(version_2.size() > 1000);
    { REQUIRE(!Database::open(file, Database::Access::read_write).value()->run(version_2)); }
    {
        auto opened = open_history(file);
        REQUIRE_MESSAGE(opened.ok(), opened.error().message);
        CHECK_MESSAGE(opened->notice.find("from version 2 to") != std::string::npos, opened->notice);
        History& history = *opened->history;
        CHECK(history.database().number("PRAGMA user_version").value() == history_version());
        std::vector<std::string> seen;
        REQUIRE(history.read({}, [&seen](const Attempt& a) { seen.push_back(a.player + " " + a.chord + " " + a.grip.text() + " " + word(a.verdict) + " " + a.answered); return true; }).ok());
        CHECK(seen == std::vector<std::string>{"player A C7 8x89xx right ", "player A Gb7 2x34xx wrong ", "player A Gb7 2x34xx right ", "player B Cm6 8x785x wrong 6", "player B Cm6 8x785x right m6"});
        CHECK(skill_totals(history, "player A").value().size() == 2);
        CHECK(answer_totals(history, "player B").value().size() == 2);
        CHECK(fault_totals(history, "player A").value().size() == 1);
        const auto tempos = tempo_totals(history, "player A").value();
        REQUIRE(tempos.size() == 1);  // 120 and 120.4 are one tempo
        CHECK(tempos[0].tempo_bpm == 120);
        CHECK(tempos[0].right == 1);
        CHECK(tempos[0].wrong == 1);
        CHECK(history.add(simple_attempt("player A", kNovember_ms)).ok());
        CHECK(!history.check_whole());
    }
    REQUIRE(history_copies(file).size() == 1);
    CHECK(open_history(file)->notice == "");
}

TEST_CASE("a history that can't be written is still read, and opening it to store says why it can't") {
    const TempFolder folder;
    const auto file = folder.path() / "gripline" / "history.sqlite";
    fill(file, 25);
    REQUIRE(chmod(folder.path().c_str(), 0755) == 0);
    REQUIRE(chmod(file.parent_path().c_str(), 0555) == 0);
    REQUIRE(chmod(file.c_str(), 0444) == 0);
    CHECK(as_nobody([&] {
        const auto to_store = open_history(file);
        if (to_store.ok()) return 1;
        const auto to_read = open_history_to_read(file);
        if (!to_read.ok()) return 2;
        return to_read->history->attempts().value() == 25 ? 0 : 3;
    }) == 0);
    CHECK(as_nobody([&] { return open_history(folder.path() / "gripline" / "no" / "history.sqlite").ok() ? 1 : 0; }) == 0);
}

TEST_CASE("a missing history reads as an empty one, and stays missing") {
    const TempFolder folder;
    auto opened = open_history_to_read(folder.path() / "gripline" / "history.sqlite");
    REQUIRE(opened.ok());
    CHECK(opened->history->attempts().value() == 0);
    CHECK(fs::is_empty(folder.path()));
}

TEST_CASE("A history named without a folder lies in the folder one is in") {
    const TempFolder folder;
    const fs::path before = fs::current_path();
    fs::current_path(folder.path());
    {
        auto opened = open_history("bare.sqlite");
        CHECK_MESSAGE(opened.ok(), (opened.ok() ? "" : opened.error().message));
        if (opened) CHECK(opened->history->add(simple_attempt("A", kNovember_ms)).ok());
    }
    CHECK(fs::is_regular_file("bare.sqlite"));
    CHECK(history_copies("bare.sqlite").empty());
    auto again = open_history_to_read("bare.sqlite");
    fs::current_path(before);
    REQUIRE(again.ok());
    CHECK(again->history->attempts().value() == 1);
}
