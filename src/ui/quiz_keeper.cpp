#include "ui/quiz_keeper.h"

#include <fcntl.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cstdio>
#include <ctime>

#include "audio/file_source.h"
#include "formats/digest.h"
#include "formats/quiz_result_json.h"
#include "formats/quiz_toml.h"

namespace gripline {
namespace {

constexpr std::int64_t kTickEvery_ms = 250;
constexpr double kRing_s = 0.8;  // of the strum after its verdict: enough to hear its notes (judgement); shorter than an answer is shown

std::string sound_name(std::size_t answer) {
    std::array<char, 48> text{};  // whatever the number
    std::snprintf(text.data(), text.size(), "answer-%03zu.flac", answer + 1);
    return text.data();
}

void without_sound(QuizAnswer& answer) {
    for (QuizTry& one : answer.tries) one.sound_at_s = kNotInSound;
}

}  // namespace

std::string run_folder_name(const QuizRunHead& head) {
    constexpr std::size_t kLongest = 24;
    std::string name;
    for (const char c : head.student.substr(0, kLongest)) {
        const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9');
        if (plain || (!name.empty() && name.back() != '-')) name += plain ? c : '-';
    }
    const std::time_t at = static_cast<std::time_t>(head.started_ms / 1000 + head.utc_offset_min * 60);
    std::tm parts{};
    gmtime_r(&at, &parts);
    std::array<char, 32> time{};
    std::strftime(time.data(), time.size(), "%Y%m%d-%H%M", &parts);
    return "quiz-" + name + (name.empty() || name.back() != '-' ? "-" : "") + time.data() + "-" + head.run.substr(head.run.size() - std::min<std::size_t>(6, head.run.size()));
}

QuizResult result_so_far(const QuizRunHead& head, const QuizRunner& runner) {
    QuizResult out;
    out.run = head.run;
    out.title = head.quiz.title;
    out.fingerprint = quiz_fingerprint(head.quiz);
    for (const QuizPart& part : head.quiz.parts) out.parts.push_back({part.title, part.pass_percent});
    out.tuning = head.quiz.tuning;
    out.capo = head.quiz.capo;
    out.a4_hz = head.quiz.a4_hz;
    out.student = head.student;
    out.started_ms = head.started_ms;
    out.utc_offset_min = head.utc_offset_min;
    out.used_s = runner.progress().used_s;
    out.ending = runner.ending();
    out.facts = head.facts;
    out.answers = runner.progress().answers;
    for (std::size_t i = out.answers.size(); i < runner.questions().size(); ++i) out.answers.emplace_back().question = runner.questions()[i];
    return out;
}

Result<std::string> write_quiz_result(const std::filesystem::path& folder, const QuizResult& result) {
    const std::string path = (folder / kResultFile).string(), fresh = path + ".new", text = quiz_result_json(result);
    const int file = ::open(fresh.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0644);
    bool good = file >= 0;
    for (std::size_t at = 0; good && at < text.size();) {
        const ssize_t put = ::write(file, text.data() + at, text.size() - at);
        good = put > 0;
        if (good) at += static_cast<std::size_t>(put);
    }
    if (file >= 0) {
        good = ::fsync(file) == 0 && good;
        ::close(file);
    }
    if (!good || std::rename(fresh.c_str(), path.c_str()) != 0) return Error{path + ": can't be written; make room and check the folder, then gripline quiz take --resume " + folder.string()};
    return path;
}

Result<std::unique_ptr<QuizKeeper>> QuizKeeper::begin(const std::filesystem::path& folder, const QuizRunHead& head) {
    std::error_code failed;
    std::filesystem::create_directories(folder, failed);
    if (failed) return Error{folder.string() + ": can't be made: " + failed.message()};
    auto journal = QuizJournal::create(folder, head);
    if (!journal) return journal.error();
    return std::unique_ptr<QuizKeeper>(new QuizKeeper(folder, head, std::move(*journal)));
}

Result<std::unique_ptr<QuizKeeper>> QuizKeeper::go_on(const std::filesystem::path& folder, const QuizJournalRead& read, std::int64_t now_ms) {
    auto journal = QuizJournal::reopen(folder);
    if (!journal) return journal.error();
    std::unique_ptr<QuizKeeper> keeper(new QuizKeeper(folder, read.head, std::move(*journal)));
    keeper->breaks_ = read.breaks;
    keeper->answers_ = read.progress.answers.size();
    keeper->tries_ = read.progress.tries.size();
    keeper->breaks_.push_back({"program stopped", static_cast<int>(keeper->answers_), read.last_ms, static_cast<double>(now_ms - read.last_ms) / 1000.0});
    keeper->journal_->broke(now_ms, keeper->breaks_.back());
    return keeper;
}

void QuizKeeper::write_sound(std::size_t answer, SoundTap* tap, double from_s, double to_s) {
    if (tap == nullptr) return;
    const auto frames = tap->cut(from_s, to_s);
    if (frames.empty()) return;
    const auto written = write_flac((folder_ / sound_name(answer)).string(), frames, tap->rate_hz());
    sound_trouble_ = written ? "" : written.error().message;
}

void QuizKeeper::write_answers(const QuizRunner& runner, SoundTap* tap, std::int64_t now_ms, double stream_s) {
    const QuizProgress& progress = runner.progress();
    while (answers_ < progress.answers.size()) {
        QuizAnswer answer = progress.answers[answers_];
        for (; tries_ < answer.tries.size(); ++tries_) journal_->tried(now_ms, answer.tries[tries_]);
        const double from_s = runner.sound_from_s(answers_);
        late_ = LateSound{answers_, from_s, stream_s + kRing_s};
        write_sound(answers_, tap, from_s, stream_s);
        if (std::filesystem::is_regular_file(folder_ / sound_name(answers_))) answer.sound.file = sound_name(answers_);
        else without_sound(answer);
        journal_->answered(now_ms, answer, progress.used_s);
        ++answers_;
        tries_ = 0;
    }
    for (; tries_ < progress.tries.size(); ++tries_) journal_->tried(now_ms, progress.tries[tries_]);
}

void QuizKeeper::note_break(const QuizRunner& runner, std::int64_t now_ms) {
    const bool stands = runner.state() == QuizState::paused || runner.state() == QuizState::input_lost;
    if (stands && !open_break_) {
        open_break_ = QuizBreak{runner.state() == QuizState::paused ? "paused" : "input lost", static_cast<int>(runner.place()), now_ms, 0.0};
    } else if (!stands && open_break_) {
        open_break_->away_s = static_cast<double>(now_ms - open_break_->at_ms) / 1000.0;
        journal_->broke(now_ms, *open_break_);
        breaks_.push_back(*open_break_);
        open_break_.reset();
    }
}

void QuizKeeper::follow(const QuizRunner& runner, SoundTap* tap, std::int64_t now_ms, double stream_s) {
    write_answers(runner, tap, now_ms, stream_s);
    note_break(runner, now_ms);
    if (late_ && stream_s >= late_->to_s) {
        write_sound(late_->answer, tap, late_->from_s, late_->to_s);
        late_.reset();
    }
    if (now_ms - ticked_ms_ >= kTickEvery_ms || now_ms < ticked_ms_ || runner.state() != state_) {
        journal_->tick(now_ms, runner.progress());
        ticked_ms_ = now_ms;
        state_ = runner.state();
    }
}

void QuizKeeper::facts(const QuizFacts& facts, std::int64_t now_ms) {
    head_.facts = facts;
    journal_->facts(now_ms, facts);
}

Result<std::string> QuizKeeper::finish(const QuizRunner& runner, SoundTap* tap, std::int64_t now_ms, double clock_off_s) {
    follow(runner, tap, now_ms, late_ ? late_->to_s : 0.0);
    head_.facts.clock_off_s = clock_off_s;
    QuizResult result = result_so_far(head_, runner);
    result.breaks = breaks_;
    for (std::size_t i = 0; i < runner.progress().answers.size(); ++i) {
        const auto digest = sha256_of_file(folder_ / sound_name(i));
        if (digest) result.answers[i].sound = {sound_name(i), *digest};
        else without_sound(result.answers[i]);
    }
    auto written = write_quiz_result(folder_, result);
    std::error_code ignored;
    if (!written) return written;
    std::filesystem::remove(folder_ / kJournalFile, ignored);
    for (std::size_t i = 0; i <= runner.questions().size(); ++i) std::filesystem::remove((folder_ / sound_name(i)).string() + ".new", ignored);  // of a kill
    return written;
}

}  // namespace gripline
