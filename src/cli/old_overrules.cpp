#include "cli/old_overrules.h"

#include "formats/overrules_json.h"

namespace gripline {
namespace {

/// As a shell takes it for one word.
std::string shell_word(const std::string& text) {
    if (text.find_first_not_of("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_./,:+=@%") == std::string::npos) return text;
    std::string out = "'";
    for (const char c : text) out += c == '\'' ? std::string("'\\''") : std::string(1, c);
    return out + "'";
}

}  // namespace

std::string set_aside_words(const std::filesystem::path& folder, const QuizResult& result) {
    const auto old = set_aside_old_overrules(folder, result);
    if (!old) return old.error().message;
    if (!*old) return {};
    std::string out = result.student + ": what was marked by ear belonged to an older marking and does not count any more; it is kept in " + (*old)->path + ".";
    for (const Overrule& mark : (*old)->marks)
        out += (&mark == &(*old)->marks.front() ? " If it still holds, say it again: " : "; ") + std::string("gripline quiz overrule ") + shell_word(folder.string()) + " " + std::to_string(mark.question + 1) + (mark.right ? " right" : " wrong");
    return out;
}

}  // namespace gripline
