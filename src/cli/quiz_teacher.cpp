// gripline quiz overrule and sheet: what a teacher does with a run, and with a quiz on paper.
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <ostream>

#include "base/file_folder.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/old_overrules.h"
#include "cli/quiz_commands.h"
#include "formats/overrules_json.h"
#include "formats/quiz_result_json.h"
#include "formats/quiz_sheet.h"
#include "formats/quiz_toml.h"

namespace gripline {

int quiz_overrule(const QuizOptions& options, std::ostream& out, std::ostream& err) {
    const auto result = load_quiz_result(options.file);
    if (!result) return refuse(err, result.error().message);
    if (options.question < 1 || options.question > static_cast<int>(result->answers.size()))
        return refuse(err, "there is no question " + std::to_string(options.question) + "; the run has 1 to " + std::to_string(result->answers.size()));
    std::error_code failed;
    const auto folder = std::filesystem::is_directory(options.file, failed) ? std::filesystem::path(options.file) : folder_of(options.file);
    if (const std::string words = set_aside_words(folder, *result); !words.empty()) err << "gripline: " << plain_line(words) << '\n';
    auto overruled = load_overrules(folder, *result);
    if (!overruled) return refuse(err, overruled.error().message);
    const Overrule one{options.question - 1, options.verdict == "right", options.why};
    std::erase_if(*overruled, [&](const Overrule& other) { return other.question == one.question; });
    overruled->push_back(one);
    const auto saved = save_overrules(folder, *result, *overruled);
    if (!saved) return refuse(err, saved.error().message);
    const QuizAnswer& answer = result->answers[static_cast<std::size_t>(one.question)];
    out << "Question " << options.question << " of " << plain_line(result->student) << ", " << question_text(answer.question) << ": " << word(answer.outcome) << " by the program, " << options.verdict << " by ear. Written to " << *saved << '\n';
    return kExitDone;
}

int quiz_sheet(const QuizOptions& options, std::ostream& out, std::ostream& err) {
    const auto quiz = load_quiz(options.file);
    if (!quiz) return refuse(err, quiz.error().message);
    const auto questions = draw_questions(*quiz, options.student);
    if (!questions) return refuse(err, options.file + ": " + questions.error().message);
    const QuizSheetOptions sheet{options.student, options.answers};
    if (options.to.empty()) {
        write_quiz_sheet(*quiz, *questions, sheet, out);
        return kExitDone;
    }
    std::error_code failed;
    if (!options.overwrite && std::filesystem::exists(options.to, failed)) return refuse(err, options.to + ": is there already; choose another name or say --overwrite");
    std::ofstream file(options.to, std::ios::binary | std::ios::trunc);
    write_quiz_sheet(*quiz, *questions, sheet, file);
    file.close();
    if (!file) return refuse(err, options.to + ": can't be written; check the folder and that there is room");
    out << "Page: " << options.to << '\n';
    return kExitDone;
}

}  // namespace gripline
