// How fast `gripline mark FOLDER` is: a class of takes of five minutes against a chart at a tempo, on one worker and on two, half the class and the whole.
// bench_pile GRIPLINE FOLDER [TAKES [MINUTES]]: the takes are rendered into FOLDER (which must not be there) and stay.
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <string>
#include <vector>

#include "audio/file_source.h"
#include "practice/quiz.h"
#include "support/student_take.h"

namespace fs = std::filesystem;
using namespace gripline;

namespace {

constexpr double kTempo_bpm = 120.0;
/// As many takes are rendered; the others are copies of them under other names.
constexpr int kDifferent = 4;

std::string chart_of(double minutes) {
    std::string out = "key: F\n";
    for (int bar = 0; bar < static_cast<int>(minutes * kTempo_bpm / 4.0); ++bar) out += bar % 4 == 3 ? "| C7 |\n" : bar % 2 == 0 ? "| F7 " : "| Bb7 ";
    return out + "| F7 |\n";
}

void render(const fs::path& folder, int takes, double minutes) {
    fs::create_directories(folder);
    const std::string chart = chart_of(minutes);
    std::FILE* file = std::fopen((folder / "chart.txt").c_str(), "wb");
    std::fputs(chart.c_str(), file);
    std::fclose(file);
    const double tempo_bpm = kTempo_bpm;
    Quiz quiz;
    quiz.parts.emplace_back().what = ChartAsked{chart, "", tempo_bpm};
    quiz.parts.back().number = std::min(kMostQuizQuestions, static_cast<int>(minutes * kTempo_bpm));
    const std::vector<QuizQuestion> questions = draw_questions(quiz, "").value();
    for (int i = 0; i < takes; ++i) {
        const fs::path path = folder / "takes" / ("student " + std::to_string(i) + ".flac");
        fs::create_directories(path.parent_path());
        if (i >= kDifferent) {
            fs::copy_file(folder / "takes" / ("student " + std::to_string(i % kDifferent) + ".flac"), path);
            continue;
        }
        test::StudentTake take;
        take.seed = static_cast<std::uint32_t>(i + 1);
        take.ring_s = 0.3;
        take.length_s = minutes * 60.0;
        for (const QuizQuestion& question : questions) {
            if (2.0 + question.beat->at_s > take.length_s - 1.0) break;
            take.grips.push_back({2.0 + question.beat->at_s, question.step.grip, {}});
        }
        (void)write_flac(path.string(), test::render_take(take), take.rate_hz);
    }
}

struct Measured {
    double wall_s = 0.0, cpu_s = 0.0;
    long most_kib = 0;
    int status = -1;
};

Measured mark(const std::string& gripline, const fs::path& folder, const fs::path& takes, int workers) {
    const fs::path into = folder / "results";
    fs::remove_all(into);
    const auto begun = std::chrono::steady_clock::now();
    const pid_t child = fork();
    if (child == 0) {
        (void)std::freopen("/dev/null", "wb", stdout);
        execl(gripline.c_str(), "gripline", "mark", takes.c_str(), "--chart", (folder / "chart.txt").c_str(), "--tempo", "120", "--into", into.c_str(), "--workers", std::to_string(workers).c_str(), nullptr);
        _exit(127);
    }
    Measured out;
    rusage used{};
    wait4(child, &out.status, 0, &used);
    out.wall_s = std::chrono::duration<double>(std::chrono::steady_clock::now() - begun).count();
    const auto seconds = [](const timeval& time) { return static_cast<double>(time.tv_sec) + static_cast<double>(time.tv_usec) / 1e6; };
    out.cpu_s = seconds(used.ru_utime) + seconds(used.ru_stime);
    out.most_kib = used.ru_maxrss;
    return out;
}

}  // namespace

int main(int argc, char** argv) {
    if (argc < 3) {
        std::fputs("bench_pile GRIPLINE FOLDER [TAKES [MINUTES]]\n", stderr);
        return 2;
    }
    const fs::path folder = argv[2];
    const int takes = argc > 3 ? std::atoi(argv[3]) : 30;
    const double minutes = argc > 4 ? std::atof(argv[4]) : 5.0;
    if (!fs::exists(folder)) render(folder, takes, minutes);
    fs::remove_all(folder / "half");
    fs::create_directories(folder / "half");
    for (int i = 0; i < takes / 2; ++i) fs::create_hard_link(folder / "takes" / ("student " + std::to_string(i) + ".flac"), folder / "half" / ("student " + std::to_string(i) + ".flac"));
    struct Row {
        const char* what;
        fs::path takes;
        int workers;
    };
    for (const Row& row : {Row{"half the class, 1 worker", folder / "half", 1}, Row{"the class, 1 worker", folder / "takes", 1}, Row{"half the class, 2 workers", folder / "half", 2}, Row{"the class, 2 workers", folder / "takes", 2}}) {
        const Measured measured = mark(argv[1], folder, row.takes, row.workers);
        std::printf("%-26s %6.1f s wall, %6.1f s of processors, at most %ld MiB, status %d\n", row.what, measured.wall_s, measured.cpu_s, measured.most_kib / 1024, measured.status);
        std::fflush(stdout);
    }
    return 0;
}
