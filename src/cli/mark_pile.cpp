#include "cli/mark_pile.h"

#include <unistd.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <cmath>
#include <condition_variable>
#include <fstream>
#include <mutex>
#include <ostream>
#include <set>
#include <sstream>
#include <thread>
#include <variant>

#include "base/text.h"
#include "chart/chart_text.h"
#include "cli/chart_file.h"
#include "cli/commands.h"
#include "cli/old_overrules.h"
#include "cli/pile_take.h"
#include "cli/text_table.h"
#include "formats/digest.h"
#include "formats/quiz_result_json.h"
#include "formats/quiz_toml.h"
#include "formats/verdict_json.h"
#include "practice/attempt_id.h"
#include "ui/quiz_app.h"

namespace gripline {

namespace {

namespace fs = std::filesystem;

/// The quiz that a chart at a tempo is: every beat of its line.
Result<Quiz> chart_quiz(const MarkOptions& options) {
    const auto written = open_chart(options.chart);
    if (!written) return written.error();
    const auto chart = chart_in_key(*written, options.key);
    if (!chart) return chart.error();
    Quiz quiz;
    quiz.title = chart->title.empty() ? options.chart : chart->title;
    quiz.order = QuizOrder::fixed;
    QuizPart part;
    part.what = ChartAsked{chart_text(*chart), "", options.tempo_bpm > 0.0 ? options.tempo_bpm : chart->tempo_bpm};
    quiz.parts.push_back(part);
    return quiz;
}

/// Files of the folder that may be recordings, by name.
std::vector<fs::path> takes_in(const std::string& folder) {
    static const std::set<std::string> kEndings{".wav", ".flac", ".ogg", ".oga", ".opus", ".mp3", ".aif", ".aiff", ".au", ".caf", ".w64"};
    std::vector<fs::path> out;
    std::error_code failed;
    for (const auto& entry : fs::directory_iterator(folder, failed)) {
        std::string ending = entry.path().extension().string();
        std::transform(ending.begin(), ending.end(), ending.begin(), [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
        if (entry.is_regular_file(failed) && kEndings.contains(ending)) out.push_back(entry.path());
    }
    std::sort(out.begin(), out.end());
    return out;
}

/// What the takes are marked against: a chart at its tempo, or a quiz.
std::string against_words(const MarkOptions& options, const Quiz& quiz) {
    const auto* chart = options.quiz.empty() ? std::get_if<ChartAsked>(&quiz.parts.front().what) : nullptr;
    const std::string title = quoted(plain_line(quiz.title));
    if (chart == nullptr || !chart->tempo_bpm) return "the quiz " + title;
    std::ostringstream tempo;
    tempo << *chart->tempo_bpm;
    return "the chart " + title + (options.key.empty() ? "" : " in " + options.key) + " at " + tempo.str() + " counts a minute";
}

/// Where the result of a take lies.
fs::path result_folder(const MarkOptions& options, const fs::path& take) { return fs::path(options.into) / (take.filename().string() + ".marked"); }

/// Why the takes may not be marked: results of something else would be lost.
std::optional<Error> would_replace(const MarkOptions& options, const Quiz& quiz, const std::vector<fs::path>& takes) {
    const std::string fingerprint = quiz_fingerprint(quiz);
    std::size_t many = 0;
    std::string first;
    for (const fs::path& take : takes) {
        std::error_code missing;
        const fs::path folder = result_folder(options, take);
        if (!fs::exists(folder / kResultFile, missing)) continue;
        const auto before = load_quiz_result(folder);
        if (!before || before->fingerprint == fingerprint) continue;
        if (many++ == 0) first = folder.string() + ", " + quoted(plain_line(before->title));
    }
    if (many == 0) return std::nullopt;
    return Error{std::to_string(many) + " of " + std::to_string(takes.size()) + " takes are marked already against another quiz, chart or tempo than " + against_words(options, quiz) + " (the first: " + first + "); --overwrite replaces these results, --into FOLDER keeps them"};
}

/// What became of one take.
struct PileAnswer {
    std::string student;
    std::optional<QuizResult> result;
    bool kept = false;  ///< marked before, and nothing has changed
    std::string warning;
    std::string error;
};

class Pile {
public:
    Pile(const MarkOptions& options, Quiz quiz, std::vector<fs::path> takes) : options_(options), quiz_(std::move(quiz)), fingerprint_(quiz_fingerprint(quiz_)), takes_(std::move(takes)), answers_(takes_.size()) {}

    /// Marks on all cores; `each` is called on this thread, in the order of the takes, as they are done.
    template <class Each, class Wait>
    void mark(Each each, Wait wait) {
        const std::size_t cores = options_.workers > 0 ? static_cast<std::size_t>(options_.workers) : std::max(1U, std::thread::hardware_concurrency());
        std::vector<std::jthread> workers;
        for (std::size_t i = 0; i < std::min(cores, takes_.size()); ++i) {
            workers.emplace_back([this] {
                for (std::size_t mine = next_++; mine < takes_.size(); mine = next_++) {
                    PileAnswer answer = answer_to(takes_[mine]);
                    const std::lock_guard lock(mutex_);
                    answers_[mine] = std::move(answer);
                    ++done_;
                    come_.notify_one();
                }
            });
        }
        for (std::size_t i = 0; i < takes_.size();) {
            std::unique_lock lock(mutex_);
            come_.wait_for(lock, std::chrono::milliseconds(200), [&] { return answers_[i].has_value(); });
            wait(done_, takes_.size());
            if (!answers_[i]) continue;
            const PileAnswer answer = std::move(*answers_[i]);
            answers_[i] = PileAnswer{};
            lock.unlock();
            each(answer);
            ++i;
        }
    }

private:
    [[nodiscard]] PileAnswer answer_to(const fs::path& take) const {
        PileAnswer out;
        out.student = take.stem().string();
        const fs::path folder = result_folder(options_, take);
        const auto digest = sha256_of_file(take);
        if (!digest) return failed(out, digest.error());
        std::error_code missing;
        if (fs::exists(folder / kResultFile, missing)) {
            auto before = load_quiz_result(folder);
            if (before && before->recording_sha256 == *digest && before->fingerprint == fingerprint_) {
                out.result = std::move(*before);
                out.kept = true;
                return out;
            }
        }
        auto marked = mark_take(quiz_, out.student, take, options_.into);
        if (!marked) return failed(out, marked.error());
        const std::int64_t now_ms = wall_clock_ms();
        marked->run = text_of(new_attempt_id(now_ms));
        marked->started_ms = now_ms;
        marked->utc_offset_min = utc_offset_minutes();
        marked->recording_sha256 = *digest;
        marked->facts.program = "gripline " GRIPLINE_VERSION;
        marked->facts.system = system_words();
        marked->facts.input = "recording " + marked->recording;
        fs::create_directories(folder, missing);
        if (const auto written = write_quiz_result(folder, *marked); !written) return failed(out, written.error());
        out.warning = set_aside_words(folder, *marked);
        out.result = std::move(*marked);
        return out;
    }
    static PileAnswer failed(PileAnswer out, const Error& why) {
        out.error = why.message;
        return out;
    }

    const MarkOptions& options_;
    Quiz quiz_;
    std::string fingerprint_;
    std::vector<fs::path> takes_;
    std::vector<std::optional<PileAnswer>> answers_;
    std::atomic<std::size_t> next_{0};
    std::size_t done_ = 0;
    std::mutex mutex_;
    std::condition_variable come_;
};

/// "[#########...........] 12 of 30, 0:25 left" on standard error, when somebody looks at it.
class PileProgress {
public:
    explicit PileProgress(std::ostream& err) : err_(err), shown_(isatty(STDERR_FILENO) != 0) {}
    void show(std::size_t done, std::size_t of) {
        if (!shown_) return;
        const double gone_s = clock_.now_s() - begun_s_;
        constexpr std::size_t kCells = 30;
        std::string line = "\r[" + std::string(kCells * done / of, '#') + std::string(kCells - kCells * done / of, '.') + "] " + std::to_string(done) + " of " + std::to_string(of);
        if (done > 0) {
            const long left_s = std::lround(gone_s * static_cast<double>(of - done) / static_cast<double>(done));
            line += ", " + std::to_string(left_s / 60) + ":" + (left_s % 60 < 10 ? "0" : "") + std::to_string(left_s % 60) + " left ";
        }
        err_ << line << std::flush;
        any_ = true;
    }
    /// Makes room for a line of results.
    void clear() {
        if (any_) err_ << '\r' << std::string(60, ' ') << '\r' << std::flush;
        any_ = false;
    }

private:
    std::ostream& err_;
    bool shown_, any_ = false;
    SteadyClock clock_;
    double begun_s_ = clock_.now_s();
};

std::string student_json(const PileAnswer& answer) {
    if (!answer.error.empty()) return "{\"student\":" + json_string(answer.student) + ",\"error\":" + json_string(answer.error) + "}";
    const PartMark mark = whole_mark(*answer.result);
    std::ostringstream out;
    out << "{\"student\":" << json_string(answer.student) << ",\"right\":" << mark.right << ",\"of\":" << mark.of << ",\"passed\":" << (mark.passed ? "true" : "false") << ",\"answers\":[";
    for (std::size_t i = 0; i < answer.result->answers.size(); ++i) out << (i > 0 ? "," : "") << json_string(std::string(word(answer.result->answers[i].outcome)));
    out << "]}";
    return out.str();
}

std::string student_line(const PileAnswer& answer) {
    const std::string name = plain_line(answer.student);
    if (!answer.error.empty()) return name + ": not marked: " + plain_line(answer.error);
    const PartMark mark = whole_mark(*answer.result);
    int ear = 0;
    for (const QuizAnswer& one : answer.result->answers) ear += unsure(one) ? 1 : 0;
    std::string out = name + ": " + std::to_string(mark.right) + " of " + std::to_string(mark.of) + " right, " + std::to_string(std::lround(mark.percent())) + " per cent, " + (mark.passed ? "passed" : "not passed");
    if (ear > 0) out += ", " + std::to_string(ear) + " unsure";
    if (const auto words = what_to_practise(*answer.result, 1); !words.empty()) out += ". " + words.front();
    return out + (answer.kept ? " (marked before)" : "");
}

}  // namespace

int mark_pile(const MarkOptions& options, std::ostream& out, std::ostream& err) {
    std::error_code failed;
    if (!fs::is_directory(options.list, failed)) return refuse(err, options.list + ": is no folder; --quiz and --chart mark a folder of takes, one a student");
    auto quiz = options.quiz.empty() ? chart_quiz(options) : load_quiz(options.quiz);
    if (!quiz) return refuse(err, quiz.error().message);
    const auto takes = takes_in(options.list);
    if (takes.empty()) return refuse(err, options.list + ": holds no recording (WAV, FLAC, Ogg, MP3 ...)");
    MarkOptions with = options;
    if (with.into.empty()) with.into = (fs::path(options.list) / "marked").string();
    if (!options.overwrite)
        if (const auto replaced = would_replace(with, *quiz, takes)) return refuse(err, replaced->message);
    fs::create_directories(with.into, failed);
    if (failed) return refuse(err, with.into + ": can't be made: " + failed.message());
    if (!options.json) out << "Marked against " << against_words(options, *quiz) << ".\n" << std::flush;
    PileProgress progress(err);
    int errors = 0;
    Pile(with, std::move(*quiz), takes).mark(
        [&](const PileAnswer& answer) {
            progress.clear();
            errors += answer.error.empty() ? 0 : 1;
            out << (options.json ? student_json(answer) : student_line(answer)) << '\n' << std::flush;
            if (!answer.warning.empty()) err << "gripline: " << plain_line(answer.warning) << '\n';
        },
        [&](std::size_t done, std::size_t of) { progress.show(done, of); });
    progress.clear();
    if (!options.json) out << "Results lie in " << with.into << "; gripline class " << with.into << " puts them on one page.\n";
    if (errors > 0) return refuse(err, std::to_string(errors) + " of " + std::to_string(takes.size()) + " takes could not be marked; the others were");
    return kExitDone;
}

}  // namespace gripline
