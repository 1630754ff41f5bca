// gripline mark: a list of strums against what was asked, each take listened to once, takes side by side on all cores.
#include <algorithm>
#include <atomic>
#include <condition_variable>
#include <filesystem>
#include <fstream>
#include <map>
#include <mutex>
#include <ostream>
#include <thread>

#include <unistd.h>

#include "cli/commands.h"
#include "cli/live_mark.h"
#include "cli/mark_answers.h"
#include "cli/mark_pile.h"
#include "cli/marking.h"
#include "base/text.h"
#include "listen/recording.h"
#include "ui/kept_guitars.h"

namespace gripline {

namespace {

/// Rows that ask about one take.
struct Take {
    std::string path;
    std::vector<std::size_t> rows;
};

/// The takes in the order in which the list first names them. Paths are relative to the list.
std::vector<Take> takes_of(const std::vector<CaseRow>& rows, const std::filesystem::path& folder) {
    std::vector<Take> takes;
    std::map<std::string, std::size_t> places;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        if (!rows[i].strum) continue;
        const std::string path = (folder / rows[i].strum->take).lexically_normal().string();
        const auto [place, fresh] = places.try_emplace(path, takes.size());
        if (fresh) takes.push_back({path, {}});
        takes[place->second].rows.push_back(i);
    }
    return takes;
}

std::vector<CaseAnswer> mark_take(const Take& take, const std::vector<CaseRow>& rows, int explain, const JudgeConfig& judge) {
    std::vector<const StrumCase*> cases;
    for (const std::size_t row : take.rows) cases.push_back(&*rows[row].strum);
    TakeMarker marker(cases, static_cast<std::size_t>(explain), judge);
    const auto heard = hear_recording(take.path, {}, [&](const dsp::StrumEvidence& evidence) {
        marker.consider(evidence);
        return !marker.done();
    });
    std::vector<CaseAnswer> answers = marker.finish(heard ? "" : heard.error().message);
    if (heard && heard->bad_samples > 0) {
        for (CaseAnswer& answer : answers) answer.error = bad_samples_text(take.path, heard->bad_samples);
    }
    return answers;
}

/// Answers that wait for their turn: workers bring them take by take, the writer wants them row by row.
class Desk {
public:
    explicit Desk(const std::vector<CaseRow>& rows) : answers_(rows.size()) {
        for (std::size_t i = 0; i < rows.size(); ++i) {
            if (!rows[i].strum) answers_[i] = CaseAnswer{{}, false, {}, rows[i].error};
        }
    }
    void put(const std::vector<std::size_t>& rows, std::vector<CaseAnswer> answers) {
        const std::lock_guard lock(mutex_);
        for (std::size_t i = 0; i < rows.size(); ++i) answers_[rows[i]] = std::move(answers[i]);
        come_.notify_one();
    }
    /// Waits for the answer of a row and takes it away.
    CaseAnswer take(std::size_t row) {
        std::unique_lock lock(mutex_);
        come_.wait(lock, [&] { return answers_[row].has_value(); });
        CaseAnswer out = std::move(*answers_[row]);
        answers_[row] = CaseAnswer{};
        return out;
    }

private:
    std::mutex mutex_;
    std::condition_variable come_;
    std::vector<std::optional<CaseAnswer>> answers_;
};

int mark_takes(const MarkOptions& options, const std::vector<CaseRow>& rows, const JudgeConfig& judge, std::ostream& out, std::ostream& err) {
    const std::vector<Take> takes = takes_of(rows, std::filesystem::path(options.list).parent_path());
    Desk desk(rows);
    std::atomic<std::size_t> next{0};
    std::atomic<bool> given_up{false};
    std::vector<std::jthread> workers;
    const std::size_t many = std::min<std::size_t>(std::max(1U, std::thread::hardware_concurrency()), takes.size());
    for (std::size_t i = 0; i < many; ++i) {
        workers.emplace_back([&] {
            for (std::size_t mine = next++; mine < takes.size() && !given_up; mine = next++) desk.put(takes[mine].rows, mark_take(takes[mine], rows, options.explain, judge));
        });
    }
    MarkAnswers answers(options, out);
    const bool progress = isatty(STDERR_FILENO) != 0 && isatty(STDOUT_FILENO) == 0;
    for (std::size_t i = 0; i < rows.size() && out.good(); ++i) {
        answers.give(rows[i], desk.take(i));
        if (progress) err << "\rmarked " << i + 1 << " of " << rows.size() << std::flush;
    }
    if (progress) err << '\n';
    given_up = true;
    return answers.finish(err);
}

}  // namespace

int mark(const MarkOptions& options, std::ostream& out, std::ostream& err) {
    if (!options.quiz.empty() || !options.chart.empty()) return mark_pile(options, out, err);
    std::error_code failed;
    if (std::filesystem::is_directory(options.list, failed)) return refuse(err, options.list + ": is a folder; name a list of cases (CSV) in it, or say with --quiz or --chart what its takes are marked against");
    std::ifstream file(options.list, std::ios::binary);
    if (!file) return refuse(err, options.list + ": can't be opened; check its name and that you may read it");
    const auto rows = read_cases(file);
    if (!rows) return refuse(err, options.list + ": " + rows.error().message);
    JudgeConfig judge;
    const auto guitar = asked_guitar(options.guitar);
    if (!guitar) return refuse(err, guitar.error().message);
    judge.guitar = *guitar;
    return options.live ? mark_live(options, *rows, judge, out, err) : mark_takes(options, *rows, judge, out, err);
}

}  // namespace gripline
