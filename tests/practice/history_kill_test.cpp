// Killed at any moment while attempts are being stored, no attempt is lost but the one in hand, and the file is sound.
#include <doctest/doctest.h>

#include <csignal>
#include <fcntl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <cstdlib>
#include <thread>

#include "practice/attempt_fixture.h"
#include "practice/history_file.h"
#include "practice/history_writer.h"
#include "support/sweep.h"
#include "support/temp_folder.h"

using namespace gripline;
using namespace gripline::test;

namespace {

constexpr int kKills = test::kSanitized ? 20 : 200;  // as tests/ui/keeping_test.cpp: each starts a process, slow under a sanitizer

/// What a child says on its pipe: the next attempt is handed over, the last one is kept.
constexpr char kHanded = 'h';
constexpr char kKept = 'k';

/// Stores attempts, one when the one before is kept (a player strums every 200 ms at most; keeping takes less than 2), until it is killed.
[[noreturn]] void store_for_ever(const std::filesystem::path& file, std::int64_t first, int say, unsigned seed) {
    std::mt19937 random(seed);
    HistoryWriter writer(file, {.settle_s = seed % 2 == 0 ? 0.0005 : 2.0});
    for (std::int64_t n = first;; ++n) {
        if (write(say, &kHanded, 1) != 1) _exit(1);
        Attempt attempt = simple_attempt("A", kNovember_ms + n, n % 3 == 0 ? VerdictKind::wrong : VerdictKind::right);
        if (n % 3 == 0) attempt.faults.resize(2);
        writer.keep(std::move(attempt));
        writer.flush();
        if (writer.state().trouble.empty() && write(say, &kKept, 1) != 1) _exit(1);
        if (random() % 4 == 0) std::this_thread::sleep_for(std::chrono::microseconds(random() % 3000));
    }
}

struct Said {
    int handed = 0, kept = 0;
};

/// One child, killed `after_us` after it has begun (or after its first attempt is kept); what it had said by then.
Said killed_after(const std::filesystem::path& file, std::int64_t first, unsigned seed, long after_us, bool first_kept) {
    int ends[2];
    REQUIRE(pipe(ends) == 0);
    const pid_t child = fork();
    REQUIRE(child >= 0);
    if (child == 0) {
        close(ends[0]);
        store_for_ever(file, first, ends[1], seed);
    }
    close(ends[1]);
    Said said;
    char word = 0;
    while (read(ends[0], &word, 1) == 1) {
        ++(word == kHanded ? said.handed : said.kept);
        if (word == kKept || !first_kept) break;
    }
    std::this_thread::sleep_for(std::chrono::microseconds(after_us));
    kill(child, SIGKILL);
    int status = 0;
    waitpid(child, &status, 0);
    CHECK(WIFSIGNALED(status));
    while (read(ends[0], &word, 1) == 1) ++(word == kHanded ? said.handed : said.kept);
    close(ends[0]);
    return said;
}

}  // namespace

TEST_CASE("killed at random moments while storing: nothing lost but the attempt in hand, the file sound each time") {
    const TempFolder folder;
    const auto file = folder.path() / "gripline" / "history.sqlite";
    std::mt19937 random(20261125);
    std::int64_t stored = 0, in_hand_lost = 0;
    for (int round = 0; round < kKills; ++round) {
        CAPTURE(round);
        const Said said = killed_after(file, stored, random(), static_cast<long>(random() % 30'000), round % 2 == 0);
        CHECK(said.handed - said.kept <= 1);
        auto opened = open_history(file);
        REQUIRE_MESSAGE(opened.ok(), opened.error().message);
        CHECK(opened->notice == "");  // nothing had to be set aside
        REQUIRE(!opened->history->check_whole());
        std::int64_t next = 0;
        REQUIRE(opened->history->read({}, [&next](const Attempt& a) { CHECK(a.at_ms == kNovember_ms + next++); return a.faults.size() == (a.at_ms % 3 == 0 ? 2U : 0U); }).value() == next);
        const std::int64_t fresh = next - stored;
        CHECK(fresh >= said.kept);
        CHECK(fresh <= said.handed);
        CHECK(opened->history->attempts().value() == next);  // running totals are of one piece with the attempts
        in_hand_lost += said.handed - fresh;
        stored = next;
    }
    CHECK(stored >= kKills / 2);
    MESSAGE(stored << " attempts kept over " << kKills << " kills; " << in_hand_lost << " in hand lost");
}
