#include "formats/quiz_journal.h"

#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <fstream>

#include "formats/quiz_fields.h"
#include "formats/quiz_toml.h"
#include "formats/verdict_fields.h"

namespace gripline {
namespace {

using Json = nlohmann::ordered_json;

constexpr std::string_view kJournalFormat = "gripline quiz journal 1";
constexpr std::int64_t kSyncEvery_ms = 1000;

std::string path_in(const std::filesystem::path& folder) { return (folder / kJournalFile).string(); }

Json line_of(const char* kind, std::int64_t now_ms) {
    Json out;
    out["kind"] = kind;
    out["now_ms"] = now_ms;
    return out;
}

class JournalReader {
public:
    explicit JournalReader(QuizJournalRead& out) : out_(out) {}

    /// Takes a line in; what is wrong with it, or nothing.
    std::string take(const std::string& line) {
        const Json json = Json::parse(line, nullptr, false);
        if (!json.is_object()) return "is no JSON object";
        std::string trouble;
        JsonKeys keys(json, "", trouble);
        const std::string kind = keys.text("kind");
        out_.last_ms = keys.whole("now_ms", 0, INT64_MAX);
        if (!keys.good()) return trouble;
        if (!begun_ && kind != "begin") return "the journal does not begin with its beginning";
        if (kind == "begin") return begin(keys, json, trouble);
        if (kind == "tick") tick(keys);
        else if (kind == "try") read_try(keys, out_.head.quiz.tuning.strings(), out_.progress.tries.emplace_back());
        else if (kind == "answer") answer(keys, json);
        else if (kind == "break") read_break(keys, out_.breaks.emplace_back());
        else if (kind == "facts") read_facts(keys, out_.head.facts);
        else return "kind " + gripline::quoted(kind) + " is unknown";
        return trouble;
    }
    [[nodiscard]] bool begun() const noexcept { return begun_; }

private:
    std::string begin(JsonKeys& keys, const Json& json, std::string& trouble) {
        if (begun_) return "the journal begins twice";
        if (keys.text("format") != kJournalFormat) return "is no journal that this gripline reads";
        QuizRunHead& head = out_.head;
        head.run = keys.text("run");
        head.student = keys.text("student");
        head.started_ms = keys.whole("started_ms", 0, INT64_MAX);
        head.utc_offset_min = static_cast<int>(keys.whole("utc_offset_min", -24 * 60, 24 * 60));
        keys.read("quiz", head.quiz, [](const std::string& text) { return parse_quiz(text); });
        if (!keys.good()) return trouble;
        JsonKeys facts(json.contains("facts") ? json.at("facts") : json, "facts", trouble);
        read_facts(facts, head.facts);
        if (!trouble.empty()) return trouble;
        auto questions = draw_questions(head.quiz, head.student);
        if (!questions) return questions.error().message;
        questions_ = std::move(*questions);
        begun_ = true;
        return {};
    }
    void tick(JsonKeys& keys) {
        out_.progress.used_s = keys.number("used_s", 0.0, 1e9);
        out_.progress.question_used_s = keys.number("question_used_s", 0.0, 1e9);
    }
    /// Where the tries lie in the answer's sound, known when it was cut.
    static void sounds_at(const Json& json, std::vector<QuizTry>& tries) {
        const auto places = json.find("sound_at_s");
        if (places == json.end() || !places->is_array() || places->size() != tries.size()) return;
        for (std::size_t i = 0; i < tries.size(); ++i) {
            const double at_s = (*places)[i].is_number() ? (*places)[i].get<double>() : kNotInSound;
            tries[i].sound_at_s = at_s >= 0.0 && at_s <= kMostQuestionTime_s ? at_s : kNotInSound;
        }
    }
    void answer(JsonKeys& keys, const Json& json) {
        if (out_.progress.answers.size() == questions_.size()) return keys.complain("kind", "there are more answers than questions");
        QuizAnswer done;
        done.question = questions_[out_.progress.answers.size()];
        read_outcome(keys, done);
        done.tries = std::move(out_.progress.tries);
        sounds_at(json, done.tries);
        out_.progress.tries.clear();
        out_.progress.answers.push_back(std::move(done));
        out_.progress.used_s = keys.number("quiz_used_s", 0.0, 1e9);
        out_.progress.question_used_s = 0.0;
    }

    QuizJournalRead& out_;
    std::vector<QuizQuestion> questions_;
    bool begun_ = false;
};

}  // namespace

Result<std::unique_ptr<QuizJournal>> QuizJournal::create(const std::filesystem::path& folder, const QuizRunHead& head) {
    const std::string path = path_in(folder);
    const int file = ::open(path.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_APPEND | O_CLOEXEC, 0644);
    if (file < 0) return Error{path + ": " + (errno == EEXIST ? "a run is there already; --resume goes on with it" : "can't be written: " + std::string(std::strerror(errno)))};
    std::unique_ptr<QuizJournal> journal(new QuizJournal(file, path));
    Json out = line_of("begin", head.started_ms);
    out["format"] = kJournalFormat;
    out["run"] = head.run;
    out["student"] = head.student;
    out["started_ms"] = head.started_ms;
    out["utc_offset_min"] = head.utc_offset_min;
    out["facts"] = facts_fields(head.facts);
    out["quiz"] = quiz_toml(head.quiz);
    journal->write(dumped(out), true);
    const int where = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);  // the name of the journal, too
    if (where >= 0) {
        (void)::fsync(where);
        ::close(where);
    }
    if (!journal->trouble().empty()) return Error{journal->trouble()};
    return journal;
}

Result<std::unique_ptr<QuizJournal>> QuizJournal::reopen(const std::filesystem::path& folder) {
    const std::string path = path_in(folder);
    const int file = ::open(path.c_str(), O_RDWR | O_APPEND | O_CLOEXEC);
    if (file < 0) return Error{path + ": can't be opened: " + std::strerror(errno)};
    std::unique_ptr<QuizJournal> journal(new QuizJournal(file, path));
    const off_t end = ::lseek(file, 0, SEEK_END);
    char last = '\n';
    if (end > 0 && ::pread(file, &last, 1, end - 1) == 1 && last != '\n') journal->write("", true);  // closes a line that was cut short
    return journal;
}

QuizJournal::~QuizJournal() { ::close(file_); }

void QuizJournal::write(std::string line, bool onto_disk) {
    line += '\n';
    for (std::size_t at = 0; at < line.size();) {
        const ssize_t put = ::write(file_, line.data() + at, line.size() - at);
        if (put < 0 && errno == EINTR) continue;
        if (put <= 0) {
            trouble_ = path_ + ": can't be written: " + std::strerror(errno) + "; make room, or what comes now is lost when the program stops";
            return;
        }
        at += static_cast<std::size_t>(put);
    }
    if (onto_disk && ::fdatasync(file_) != 0 && errno != EINVAL) trouble_ = path_ + ": can't be brought onto the disk: " + std::strerror(errno);
    else trouble_.clear();
}

void QuizJournal::tick(std::int64_t now_ms, const QuizProgress& progress) {
    Json out = line_of("tick", now_ms);
    out["used_s"] = rounded(progress.used_s, 3);
    out["question_used_s"] = rounded(progress.question_used_s, 3);
    const bool due = now_ms < synced_ms_ || now_ms - synced_ms_ >= kSyncEvery_ms;
    if (due) synced_ms_ = now_ms;
    write(dumped(out), due);
}

void QuizJournal::tried(std::int64_t now_ms, const QuizTry& one) {
    Json out = line_of("try", now_ms);
    out.update(try_fields(one));
    write(dumped(out), true);
}

void QuizJournal::answered(std::int64_t now_ms, const QuizAnswer& answer, double used_s) {
    Json out = line_of("answer", now_ms);
    put_outcome(out, answer);
    out["quiz_used_s"] = rounded(used_s, 3);
    out["sound_at_s"] = Json::array();  // known only now: the beginning of a long answer is not kept
    for (const QuizTry& one : answer.tries) out["sound_at_s"].push_back(rounded(one.sound_at_s, 3));
    write(dumped(out), true);
}

void QuizJournal::broke(std::int64_t now_ms, const QuizBreak& one) {
    Json out = line_of("break", now_ms);
    out.update(break_fields(one));
    write(dumped(out), true);
}

void QuizJournal::facts(std::int64_t now_ms, const QuizFacts& facts) {
    Json out = line_of("facts", now_ms);
    out.update(facts_fields(facts));
    write(dumped(out), true);
}

Result<QuizJournalRead> read_quiz_journal(const std::filesystem::path& folder) {
    const std::string path = path_in(folder);
    std::ifstream in(path, std::ios::binary);
    std::error_code failed;
    if (!in || !std::filesystem::is_regular_file(path, failed)) return Error{path + ": there is no journal; name the folder of an interrupted run"};
    QuizJournalRead out;
    JournalReader reader(out);
    std::string line, trouble;
    for (long number = 1; std::getline(in, line); ++number) {
        if (line.empty()) continue;
        if (!trouble.empty() && !trouble.ends_with("is no JSON object")) return Error{path + ": " + trouble};
        trouble = reader.take(line);  // only a line that was cut short may be no JSON; the next one says whether it was the last
        if (!trouble.empty()) trouble = "line " + std::to_string(number) + ": " + trouble;
    }
    if (!trouble.empty() && !trouble.ends_with("is no JSON object")) return Error{path + ": " + trouble};
    if (!reader.begun()) return Error{path + ": the run had not begun; start it anew"};
    return out;
}

}  // namespace gripline
