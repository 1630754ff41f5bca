// How opening, storing and the progress page's questions grow with the number of attempts kept.
// Run: bench_history FOLDER [attempts ...]. Ten million attempts take about 3 GB there, removed at the end.
#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include "practice/attempt_fixture.h"
#include "practice/history_file.h"
#include "practice/history_schema.h"
#include "practice/history_writer.h"
#include "practice/progress.h"

using namespace gripline;

namespace {

namespace fs = std::filesystem;

double now_ms() { return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now().time_since_epoch()).count(); }

/// Processor time of this thread: what is left of a time when other programs have the machine.
double processor_ms() {
    timespec time{};
    clock_gettime(CLOCK_THREAD_CPUTIME_ID, &time);
    return static_cast<double>(time.tv_sec) * 1e3 + static_cast<double>(time.tv_nsec) * 1e-6;
}

struct Took {
    double wall_ms = 0, processor_ms = 0;
};

Took timed(const std::function<void()>& work) {
    const double began = now_ms(), processor_began = processor_ms();
    work();
    return {now_ms() - began, processor_ms() - processor_began};
}

/// The least of three.
Took best_of_three(const std::function<void()>& work) {
    Took best = timed(work);
    for (int i = 0; i < 2; ++i) {
        const Took again = timed(work);
        if (again.wall_ms < best.wall_ms) best = again;
    }
    return best;
}

double at_share(std::vector<double> times, double share) {
    std::sort(times.begin(), times.end());
    return times[static_cast<std::size_t>(share * static_cast<double>(times.size() - 1))];
}

[[noreturn]] void stop(const std::string& why) {
    std::fprintf(stderr, "bench_history: %s\n", why.c_str());
    std::exit(1);
}

void must(const std::optional<Error>& error) {
    if (error) stop(error->message);
}

template <class Value>
Value must(Result<Value> result) {
    if (!result) stop(result.error().message);
    return std::move(result).value();
}

/// The skills of the plan below: 4 qualities x (chord, passing, approach below, approach above) x 12 keys x 2 ways of asking.
constexpr int kSkills = 4 * 4 * 12 * 2;

void plan_skills(History& history) {
    int minute = 0;
    for (const char* quality : {"7", "6", "m6", "7b5"}) {
        for (int role = 0; role < 4; ++role) {
            for (int key = 0; key < 12; ++key) {
                for (const Asking asking : {Asking::shown, Asking::named}) {
                    Attempt a = test::simple_attempt("A", test::kNovember_ms - 60'000LL * minute++);
                    a.quality = quality;
                    a.place = role == 0 ? Sounds::chord : role == 1 ? Sounds::passing : Sounds::approach;
                    if (role >= 2) a.from = role == 2 ? From::below : From::above;
                    a.root = usual_root(PitchClass(key));
                    a.asking = asking;
                    (void)must(history.add(a));
                }
            }
        }
    }
}

/// `count` attempts over `years` years, by one statement; a fifth of them wrong, each with a fault, a quarter in time. The triggers stand aside meanwhile: the
/// totals are counted anew at the end, as after a migration.
void generate(const fs::path& file, long count, double years) {
    const auto opened = must(open_history(file));
    plan_skills(*opened.history);
    Database& database = opened.history->database();
    const auto triggers = must(database.text("SELECT group_concat(sql, ';' || char(10)) FROM sqlite_schema WHERE type = 'trigger'"));
    const auto drops = must(database.text("SELECT group_concat('DROP TRIGGER ' || name, ';') FROM sqlite_schema WHERE type = 'trigger'"));
    must(database.run("PRAGMA synchronous = OFF; " + drops));
    const std::string n = std::to_string(count), spacing = std::to_string(static_cast<long long>(years * 365.25 * 86'400'000.0 / static_cast<double>(count)));
    must(database.run(
        "INSERT INTO attempts SELECT NULL, randomblob(16), " + std::to_string(test::kNovember_ms) + " - value * " + spacing + ", 60, 1, 1, 2, 1 + abs(random()) % " + std::to_string(kSkills) +
        ", 1, iif(value % 4 = 0, 60 + value % 120, NULL), iif(value % 5 = 0, 'wrong', 'right'), 0.9, '48 58 64', '', NULL, 1.0 + (value % 40) * 0.1, 1, 0 "
        "FROM (WITH RECURSIVE c(value) AS (SELECT 1 UNION ALL SELECT value + 1 FROM c WHERE value < " + n + ") SELECT value FROM c)"));
    must(database.run("INSERT INTO faults SELECT attempt_no, 0, 'wrong_note', 3 + attempt_no % 4, 1 - 2 * (attempt_no % 2), 60, 61, 0.9 FROM attempts WHERE verdict = 'wrong'"));
    must(rebuild_totals(database));
    must(database.run(triggers));
    must(database.run("PRAGMA wal_checkpoint(TRUNCATE)"));
}

struct Times {
    Took open, page, latest;
    std::vector<double> store_ms, store_processor_ms;
    double hand_over_worst_ms = 0;
    std::size_t rows = 0;
};

/// What the progress page takes: its rows read from the history, counted, and ten minutes planned.
void make_page(History& history, Times& times) {
    const ProgressSource source = must(read_progress(history, "A", day_of(test::kNovember_ms, 60)));
    if (count_progress(source, {}).attempts == 0 || plan_today(source).empty()) stop("the page is empty");
    times.rows = source.totals.size() + source.weeks.size() + source.faults.size();
}

Times measure(const fs::path& file) {
    Times times;
    times.open = best_of_three([&] { (void)must(open_history(file)); });
    {
        const auto opened = must(open_history(file));
        times.page = best_of_three([&] { make_page(*opened.history, times); });
        times.latest = best_of_three([&] { (void)must(opened.history->read({"A", {}, {}, 400}, [](const Attempt&) { return true; })); });
        for (int i = 0; i < 1000; ++i) {
            Attempt a = test::simple_attempt("A", test::kNovember_ms + 1000LL * i);
            if (i % 5 == 0) {
                a.verdict = VerdictKind::wrong;
                a.faults.resize(2);
            }
            const Took took = timed([&] { (void)must(opened.history->add(a)); });
            times.store_ms.push_back(took.wall_ms);
            times.store_processor_ms.push_back(took.processor_ms);
            if (i % 200 == 199) opened.history->settle();
        }
    }
    HistoryWriter writer(file);
    for (int i = 0; i < 1000; ++i) {
        const Took took = timed([&] { writer.keep(test::simple_attempt("A", test::kNovember_ms + 1000LL * i)); });
        times.hand_over_worst_ms = std::max(times.hand_over_worst_ms, took.wall_ms);
        if (i % 10 == 0) writer.flush();
    }
    if (writer.close().lost > 0) stop("attempts were lost");
    return times;
}

}  // namespace

int main(int argc, char** argv) {
    if (argc < 2) stop("usage: bench_history FOLDER [attempts ...]");
    std::vector<long> sizes;
    for (int i = 2; i < argc; ++i) sizes.push_back(std::atol(argv[i]));
    if (sizes.empty()) sizes = {10'000, 100'000, 1'000'000, 10'000'000};
    std::printf("wall time (processor time); stored and handed over: of 1000\n"
                "| attempts | file | opening | progress page | its rows | latest 400 attempts | an attempt stored, median | 99 %% | handed over, worst |\n");
    for (const long size : sizes) {
        const fs::path file = fs::path(argv[1]) / ("history-" + std::to_string(size) + ".sqlite");
        generate(file, size, 10.0);
        const double megabytes = static_cast<double>(fs::file_size(file)) / 1e6;
        const Times t = measure(file);
        std::printf("| %ld | %.0f MB | %.1f (%.1f) ms | %.0f (%.0f) ms | %zu | %.1f (%.1f) ms | %.2f (%.2f) ms | %.2f (%.2f) ms | %.2f ms |\n", size, megabytes, t.open.wall_ms, t.open.processor_ms,
                    t.page.wall_ms, t.page.processor_ms, t.rows, t.latest.wall_ms, t.latest.processor_ms, at_share(t.store_ms, 0.5), at_share(t.store_processor_ms, 0.5),
                    at_share(t.store_ms, 0.99), at_share(t.store_processor_ms, 0.99), t.hand_over_worst_ms);
        std::fflush(stdout);
        for (const char* log : {"", "-wal", "-shm"}) fs::remove(file.string() + log);
    }
    return 0;
}
