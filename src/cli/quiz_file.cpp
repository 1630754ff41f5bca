// gripline quiz check: reads a quiz file and shows what it asks.
#include <algorithm>
#include <ostream>

#include "cli/commands.h"
#include "cli/quiz_commands.h"
#include "formats/quiz_json.h"
#include "formats/quiz_toml.h"
#include "base/text.h"

namespace gripline {

int quiz_check(const QuizOptions& options, std::ostream& out, std::ostream& err) {
    const auto quiz = load_quiz(options.file);
    if (!quiz) return refuse(err, quiz.error().message);
    const auto questions = draw_questions(*quiz, options.student);
    if (!questions) return refuse(err, options.file + ": " + questions.error().message);
    if (options.json) {
        for (std::size_t i = 0; i < questions->size(); ++i) out << quiz_question_json(i + 1, (*questions)[i]) << '\n';
        return kExitDone;
    }
    out << plain_line(quiz->title) << ": " << questions->size() << (questions->size() == 1 ? " question" : " questions") << ", order: " << word(quiz->order) << ", fingerprint " << quiz_fingerprint(*quiz).substr(0, 12) << '\n';
    int part = -1;
    for (std::size_t i = 0; i < questions->size(); ++i) {
        const QuizQuestion& question = (*questions)[i];
        if (question.part != part) {
            part = question.part;
            const QuizPart& of = quiz->parts[static_cast<std::size_t>(part)];
            out << "\nPart " << part + 1 << (of.title.empty() ? "" : ", " + plain_line(of.title)) << " (passed from " << of.pass_percent << " per cent right)\n";
        }
        out << "  " << i + 1 << ".  " << question_text(question) << '\n';
    }
    const bool own = quiz->order == QuizOrder::own_order || quiz->order == QuizOrder::own_questions;
    if (own && options.student.empty()) out << "\nEach student gets " << (quiz->order == QuizOrder::own_order ? "another order" : "other questions") << ": --student NAME shows theirs.\n";
    return kExitDone;
}

}  // namespace gripline
