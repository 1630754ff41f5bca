// gripline quiz new: asks for what a quiz is to hold, one question at a time, and writes its file.
#include <algorithm>
#include <cctype>
#include <filesystem>
#include <fstream>
#include <istream>
#include <iterator>
#include <optional>
#include <ostream>
#include <string_view>

#include "base/text.h"
#include "cli/commands.h"
#include "cli/quiz_commands.h"
#include "formats/quiz_toml.h"

namespace gripline {

namespace {

/// Asks until the answer does. An answer is put into a file that says nothing else of its own and read as every quiz file is, so that what may be said is
/// known in one place.
class Questioner {
public:
    Questioner(std::istream& in, std::ostream& out) : in_(in), out_(out) {}

    /// An empty answer is `usual`. False at the end of the input.
    bool ask(const std::string& what, const std::string& usual, std::string& answer) {
        out_ << what << (usual.empty() ? "" : " [" + usual + "]") << ": " << std::flush;
        if (!std::getline(in_, answer)) return false;
        answer = std::string(trimmed(answer));
        if (answer.empty()) answer = usual;
        return true;
    }
    void say(const std::string& what) { out_ << what << '\n'; }

private:
    std::istream& in_;
    std::ostream& out_;
};

std::string in_quotes(const std::string& text) {
    std::string out = "\"";
    for (const char c : text) {
        if (c == '"' || c == '\\') out += '\\';
        if (static_cast<unsigned char>(c) >= 0x20 && c != 0x7F) out += c;
    }
    return out + '"';
}

/// "C, F, Bb" as a list of texts.
std::string list_of(const std::string& words) {
    std::string out = "[";
    for (std::size_t at = 0; at <= words.size();) {
        const std::size_t end = std::min(words.find(',', at), words.size());
        out += (out.size() > 1 ? ", " : "") + in_quotes(std::string(trimmed(words.substr(at, end - at))));
        at = end + 1;
    }
    return out + "]";
}

enum class AnswerKind { text, list, number, flag };

/// One key of the file: what is asked, what is usual.
struct KeyAsked {
    const char* key;
    const char* what;
    const char* usual;  ///< empty: may be left out
    AnswerKind kind;
};

constexpr KeyAsked kWhole[] = {
    {"title", "Title of the quiz", "Quiz", AnswerKind::text},
    {"order", "Order (fixed, same, own order, own questions)", "same", AnswerKind::text},
    {"seed", "Seed: the same number draws the same questions", "1", AnswerKind::number},
    {"question-time-s", "Seconds for a question", "20", AnswerKind::number},
    {"time-s", "Seconds in all, 0 for no limit", "0", AnswerKind::number},
    {"tries", "Tries for a question (1 to 5)", "1", AnswerKind::number},
    {"show-after-miss", "Show the right grip after a miss (yes or no)", "no", AnswerKind::flag},
    {"pause", "May be paused (yes or no)", "no", AnswerKind::flag},
    {"tuning", "Tuning", "standard", AnswerKind::text},
};
constexpr KeyAsked kAnyPart[] = {
    {"title", "Title of the part", "Part", AnswerKind::text},
    {"asked", "Asked how (shown, named, by ear)", "named", AnswerKind::text},
    {"pass-percent", "Passed from how many per cent right", "70", AnswerKind::number},
};
constexpr KeyAsked kSkills[] = {
    {"qualities", "Chord qualities, such as 7, m7, 6", "7", AnswerKind::list},
    {"keys", "Roots, such as C, F, Bb", "C, F, Bb, Eb", AnswerKind::list},
    {"roles", "Roles (chord, passing, approach)", "chord, passing", AnswerKind::list},
    {"stage", "Stage (scale, drop 2, drop 3, shell)", "shell", AnswerKind::text},
    {"number", "How many questions", "8", AnswerKind::number},
};
constexpr KeyAsked kGrips[] = {{"grips", "Grips with their chords, such as 8x89xx C7, 3x23xx C7", "8x89xx C7", AnswerKind::list}};
constexpr KeyAsked kChart[] = {
    {"chart", "Chart: a name of the library (gripline line --charts) or a file beside the quiz", "blues", AnswerKind::text},
    {"key", "Key (empty: as written)", "", AnswerKind::text},
    {"tempo-bpm", "Counts a minute, walked with a click (empty: each step in its own time)", "", AnswerKind::number},
    {"number", "How many steps (empty: all)", "", AnswerKind::number},
};

/// Units that may stand behind a number, for they are in what is asked.
constexpr std::string_view kUnits[] = {"", "s", "sec", "seconds", "%", "per cent", "percent", "bpm", "tries", "questions", "steps"};

/// "15 s", "70%" as the number that a file holds; nullopt when it is none.
std::optional<std::string> number_of(const std::string& answer) {
    const std::size_t end = std::min(answer.find_first_not_of("0123456789."), answer.size());
    const std::string number = answer.substr(0, end);
    const auto point = number.find('.');
    const bool plain = !number.empty() && number.front() != '.' && number.back() != '.' && (point == std::string::npos || number.find('.', point + 1) == std::string::npos);
    const std::string_view unit = trimmed(std::string_view(answer).substr(end));
    if (!plain || std::find(std::begin(kUnits), std::end(kUnits), unit) == std::end(kUnits)) return std::nullopt;
    // A file's numbers have no zeros in front.
    const std::size_t first = std::min(number.find_first_not_of('0'), point == std::string::npos ? number.size() - 1 : point - 1);
    return number.substr(first);
}

std::optional<std::string> flag_of(std::string answer) {
    std::transform(answer.begin(), answer.end(), answer.begin(), [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    if (answer == "yes" || answer == "y" || answer == "true") return "true";
    if (answer == "no" || answer == "n" || answer == "false") return "false";
    return std::nullopt;
}

/// An answer as the file holds it, or what is allowed.
Result<std::string> value_of(const KeyAsked& key, const std::string& answer) {
    if (key.kind == AnswerKind::text) return in_quotes(answer);
    if (key.kind == AnswerKind::list) return list_of(answer);
    if (key.kind == AnswerKind::flag) {
        const auto flag = flag_of(answer);
        return flag ? Result<std::string>(*flag) : Result<std::string>(Error{quoted(answer) + " is unknown; write yes or no"});
    }
    const auto number = number_of(answer);
    return number ? Result<std::string>(*number) : Result<std::string>(Error{quoted(answer) + " is no number; write one such as " + (*key.usual != '\0' ? key.usual : "120")});
}

/// Of "line 14, part 1, key "asked": unknown way ..." the words behind the key: whoever answers questions sees no lines.
std::string without_place(const std::string& message, const std::string& key) {
    const std::string place = "key \"" + key + "\"";
    const auto at = message.find(place);
    if (!message.starts_with("line ")) return message;
    if (at == std::string::npos) {
        const auto other = message.find("key \"");
        return other == std::string::npos ? "that can't be used; write something else" : message.substr(other);
    }
    const std::string rest = message.substr(at + place.size());
    return rest.starts_with(": ") ? rest.substr(2) : std::string(trimmed(rest));
}

/// Writes a quiz step by step. Each answer is tried by reading the file as far as it goes.
class QuizWriter {
public:
    QuizWriter(Questioner& questioner, std::filesystem::path folder) : ask_(questioner), folder_(std::move(folder)) {}

    template <std::size_t N>
    bool keys(const KeyAsked (&keys)[N], const std::string& rest) {
        for (const KeyAsked& key : keys)
            if (!one(key, rest)) return false;
        return true;
    }
    void add(const std::string& text) { text_ += text; }
    [[nodiscard]] const std::string& text() const noexcept { return text_; }

private:
    /// rest: what makes the file whole as long as the later keys are missing.
    bool one(const KeyAsked& key, const std::string& rest) {
        for (std::string answer; ask_.ask(key.what, key.usual, answer);) {
            if (answer.empty()) return true;
            const auto value = value_of(key, answer);
            const std::string line = value ? std::string(key.key) + " = " + *value + "\n" : "";
            const std::string why = value ? why_not(key, line, rest.starts_with(std::string(key.key) + " ") ? "" : rest) : value.error().message;
            if (why.empty()) {
                text_ += line;
                return true;
            }
            ask_.say("  " + why);
        }
        return false;
    }

    /// Why the file can't go on with this line; empty when it can. What is missing still comes; but what was whole before, or names this key, or no key at all
    /// since it is no TOML, is about this answer.
    [[nodiscard]] std::string why_not(const KeyAsked& key, const std::string& line, const std::string& rest) const {
        const auto tried = parse_quiz(text_ + line + rest, folder_);
        if (tried) return {};
        const std::string& message = tried.error().message;
        const bool whole_before = parse_quiz(text_ + rest, folder_).ok(), about_this = message.find("key \"" + std::string(key.key) + "\"") != std::string::npos;
        return whole_before || about_this || message.find("key \"") == std::string::npos ? without_place(message, key.key) : "";
    }

    Questioner& ask_;
    std::filesystem::path folder_;
    std::string text_ = "format = \"" + std::string(kQuizFormat) + "\"\n";
};

bool ask_part(Questioner& questioner, QuizWriter& writer) {
    writer.add("\n[[part]]\n");
    std::string what;
    if (!questioner.ask("This part asks skills, grips or a chart", "skills", what)) return false;
    while (what != "skills" && what != "grips" && what != "chart")
        if (!questioner.ask("  write skills, grips or chart", "skills", what)) return false;
    if (!writer.keys(kAnyPart, "grips = [\"8x89xx C7\"]\n")) return false;
    if (what == "skills") return writer.keys(kSkills, "number = 1\n") ;
    return what == "grips" ? writer.keys(kGrips, "") : writer.keys(kChart, "");
}

/// The end of the input is a no: the quiz is whole.
bool another_part(Questioner& questioner) {
    std::string answer;
    for (std::string what = "Another part (yes or no)"; questioner.ask(what, "no", answer); what = "  write yes or no")
        if (const auto flag = flag_of(answer)) return *flag == "true";
    return false;
}

}  // namespace

int quiz_new(const QuizOptions& options, std::istream& in, std::ostream& out, std::ostream& err) {
    std::error_code failed;
    if (!options.overwrite && std::filesystem::exists(options.file, failed)) return refuse(err, options.file + ": is there already; choose another name or say --overwrite");
    Questioner questioner(in, out);
    QuizWriter writer(questioner, std::filesystem::path(options.file).parent_path());
    out << "An empty answer takes what stands in brackets.\n";
    const Error ended{"the answers ended before the quiz was whole; nothing was written"};
    if (!writer.keys(kWhole, "[[part]]\ngrips = [\"8x89xx C7\"]\n")) return refuse(err, ended.message);
    for (bool more = true; more;) {
        if (!ask_part(questioner, writer)) return refuse(err, ended.message);
        more = another_part(questioner);
    }
    const auto quiz = parse_quiz(writer.text(), std::filesystem::path(options.file).parent_path());
    if (!quiz) return refuse(err, "the quiz can't be used: " + quiz.error().message + "; nothing was written");
    std::ofstream file(options.file, std::ios::binary | std::ios::trunc);
    file << writer.text();
    file.close();
    if (!file) return refuse(err, options.file + ": can't be written; check the folder and that there is room");
    out << "Written to " << options.file << ". gripline quiz check shows its questions.\n";
    return kExitDone;
}

}  // namespace gripline
