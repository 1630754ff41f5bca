// Attempts on their way into the file: kept in order, past a full disk, a folder without rights and a file that breaks meanwhile.
#include <doctest/doctest.h>

#include <csignal>
#include <sys/mount.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <fstream>
#include <sched.h>
#include <thread>

#include "practice/attempt_fixture.h"
#include "practice/history_file.h"
#include "practice/history_writer.h"
#include "support/temp_folder.h"

using namespace gripline;
using namespace gripline::test;
namespace fs = std::filesystem;

namespace {

/// Runs `check` in a child process; its exit status, 0 when all held.
template <class Check>
int in_child(Check check) {
    const pid_t child = fork();
    if (child == 0) _exit(check());
    int status = 0;
    waitpid(child, &status, 0);
    return WIFEXITED(status) ? WEXITSTATUS(status) : 200 + WTERMSIG(status);
}

template <class Done>
bool waited_for(Done done, double most_s = 20.0) {
    for (int i = 0; i < static_cast<int>(most_s * 200); ++i) {
        if (done()) return true;
        std::this_thread::sleep_for(std::chrono::milliseconds(5));
    }
    return false;
}

constexpr int kFullMost = 4000;

/// Keeps attempts until the disk is full, makes room, and looks whether all that waited were kept. 0: so it was.
template <class MakeRoom>
int keep_until_full(const fs::path& file, MakeRoom make_room) {
    HistoryWriter writer(file, {.most_waiting = kFullMost, .retry_s = 0.05});
    int n = 0;
    while (n < kFullMost && writer.state().trouble.empty()) {
        writer.keep(simple_attempt("A", kNovember_ms + n++));
        writer.flush();
    }
    if (n == kFullMost || n < 3) return 1;
    const auto full = writer.state();
    if (full.trouble.find("disk is full") == std::string::npos) return 2;
    for (int i = 0; i < 20; ++i) writer.keep(simple_attempt("A", kNovember_ms + n++));  // practice goes on
    make_room();
    if (!waited_for([&writer] { return writer.state().waiting == 0; })) return 3;
    const auto after = writer.close();
    if (!after.trouble.empty() || after.lost != 0 || after.kept != n) return 4;
    auto opened = open_history_to_read(file);
    if (!opened || !opened->notice.empty() || opened->history->check_whole()) return 5;
    return opened->history->attempts().value() == n ? 0 : 6;
}

}  // namespace

TEST_CASE("attempts handed over are in the file, all and in their order, when the writer is closed") {
    const TempFolder folder;
    const auto file = folder.path() / "gripline" / "history.sqlite";
    {
        HistoryWriter writer(file);
        for (int i = 0; i < 500; ++i) writer.keep(simple_attempt("A", kNovember_ms + i));
        const auto state = writer.close();
        CHECK(state.kept == 500);
        CHECK(state.lost == 0);
        CHECK(state.trouble == "");
        writer.keep(simple_attempt("A", kNovember_ms));  // too late: nothing happens
    }
    auto history = std::move(open_history(file).value().history);
    std::int64_t next = kNovember_ms;
    REQUIRE(history->read({}, [&next](const Attempt& a) { CHECK(a.at_ms == next++); return true; }).value() == 500);
}

TEST_CASE("an attempt past the limits stops nothing: it is counted as lost, the others are kept") {
    const TempFolder folder;
    HistoryWriter writer(folder.path() / "history.sqlite");
    Attempt spoilt = simple_attempt("A", kNovember_ms);
    spoilt.confidence = 7.0;
    writer.keep(simple_attempt("A", kNovember_ms));
    writer.keep(spoilt);
    writer.keep(simple_attempt("A", kNovember_ms + 1));
    const auto state = writer.close();
    CHECK(state.kept == 2);
    CHECK(state.lost == 1);
}

TEST_CASE("a full disk (limit on the size of files) is said, attempts wait, and are kept once there is room") {
    const TempFolder folder;
    CHECK(in_child([&] {
        std::signal(SIGXFSZ, SIG_IGN);
        rlimit limit{};
        getrlimit(RLIMIT_FSIZE, &limit);
        const rlimit small{300'000, limit.rlim_max};
        if (setrlimit(RLIMIT_FSIZE, &small) != 0) return 90;
        return keep_until_full(folder.path() / "history.sqlite", [&limit] { setrlimit(RLIMIT_FSIZE, &limit); });
    }) == 0);
}

TEST_CASE("a full disk (a small file system of its own) is said, attempts wait, and are kept once there is room") {
    const TempFolder folder;
    const auto disk = folder.path() / "disk";
    fs::create_directory(disk);
    constexpr int kMayNot = 77;
    const int status = in_child([&] {
        if (unshare(CLONE_NEWNS) != 0 || mount(nullptr, "/", nullptr, MS_REC | MS_PRIVATE, nullptr) != 0) return kMayNot;
        if (mount("tmpfs", disk.c_str(), "tmpfs", 0, "size=8m") != 0) return kMayNot;
        std::ofstream(disk / "filler", std::ios::binary) << std::string(7'800'000, 'x');
        return keep_until_full(disk / "gripline" / "history.sqlite", [&] { fs::remove(disk / "filler"); });
    });
    if (status == kMayNot) MESSAGE("not tried: this process may not mount");
    else CHECK(status == 0);
}

TEST_CASE("where nothing can be written that is said, keeping returns at once, and the end tells how many were lost") {
    const TempFolder folder;
    REQUIRE(chmod(folder.path().c_str(), 0555) == 0);
    CHECK(in_child([&] {
        if (geteuid() == 0 && (setgid(65534) != 0 || setuid(65534) != 0)) return 99;
        HistoryWriter writer(folder.path() / "gripline" / "history.sqlite", {.most_waiting = 8, .retry_s = 0.05});
        if (!waited_for([&] { return !writer.state().trouble.empty(); })) return 1;
        for (int i = 0; i < 10; ++i) writer.keep(simple_attempt("A", kNovember_ms + i));
        const auto before = writer.state();
        if (before.waiting != 8 || before.lost != 2) return 2;
        if (before.trouble.find((folder.path() / "gripline").string()) == std::string::npos) return 3;
        const auto after = writer.close();
        return after.kept == 0 && after.lost == 10 ? 0 : 4;
    }) == 0);
    REQUIRE(chmod(folder.path().c_str(), 0755) == 0);
}

TEST_CASE("a file that breaks while practice goes on is set aside, and the attempt in hand goes into a new one") {
    const TempFolder folder;
    const auto file = folder.path() / "history.sqlite";
    HistoryWriter writer(file, {.settle_s = 0.01});
    for (int i = 0; i < 400; ++i) writer.keep(simple_attempt("A", kNovember_ms + i));
    writer.flush();
    // Once the log is in the file, all but its first page is scribbled over.
    REQUIRE(waited_for([&] { return fs::file_size(file) > 60'000; }));
    std::this_thread::sleep_for(std::chrono::milliseconds(100));
    {
        std::fstream out(file, std::ios::binary | std::ios::in | std::ios::out);
        out.seekp(4096);
        out << std::string(fs::file_size(file) - 4096, '\x5a');
    }
    {
        std::error_code ignored;
        std::ofstream(file.string() + "-wal", std::ios::binary | std::ios::in | std::ios::out);
    }
    for (int i = 0; i < 50; ++i) writer.keep(simple_attempt("A", kNovember_ms + 1000 + i));
    const auto state = writer.close();
    CHECK(state.lost == 0);
    auto opened = open_history(file);
    REQUIRE(opened.ok());
    CHECK(!opened->history->check_whole());
    std::int64_t last_ms = 0;
    REQUIRE(opened->history->read({}, [&last_ms](const Attempt& a) { last_ms = a.at_ms; return true; }).ok());
    const bool said = !state.notice.empty() || !opened->notice.empty();
    CHECK(said);
    if (!state.notice.empty()) CHECK(last_ms == kNovember_ms + 1049);
}
