// gripline quiz take and verify: a run on the live input, and whether a result is as it was written.
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <iostream>
#include <ostream>
#include <sstream>

#include "base/text.h"
#include "cli/commands.h"
#include "cli/quiz_commands.h"
#include "formats/quiz_result_json.h"
#include "formats/quiz_toml.h"
#include "ui/quiz_app.h"

namespace gripline {

namespace {

/// An interrupted run becomes a result as it stands, without a screen.
int hand_in_as_it_stands(const QuizStart& start, std::ostream& out, std::ostream& err) {
    const QuizRunHead& head = start.resumed->head;
    QuizRunner runner(head.quiz, draw_questions(head.quiz, head.student).value(), start.resumed->progress);
    auto keeper = QuizKeeper::go_on(start.folder, *start.resumed, wall_clock_ms());
    if (!keeper) return refuse(err, keeper.error().message);
    runner.hand_in();
    const auto written = (*keeper)->finish(runner, nullptr, wall_clock_ms(), 0.0);
    if (!written) return refuse(err, written.error().message);
    std::ostringstream text;
    text << std::ifstream(*written, std::ios::binary).rdbuf();
    const auto result = parse_quiz_result(text.str());
    if (!result) return refuse(err, *written + ": " + result.error().message);
    const PartMark mark = whole_mark(*result);
    out << "Handed in as it stands: " << plain_line(result->student) << ", " << runner.progress().answers.size() << " of " << mark.of << " questions answered, " << mark.right << " right, hand-in code " << hand_in_code(text.str()) << ".\nResult: " << *written << '\n';
    return kExitDone;
}

}  // namespace

int quiz_take(const QuizOptions& options, std::ostream& out, std::ostream& err) {
    QuizStart start;
    start.program = "gripline " GRIPLINE_VERSION;
    if (!options.resume.empty()) {
        std::error_code failed;
        start.folder = options.resume;
        if (std::filesystem::exists(start.folder / kResultFile, failed)) return refuse(err, options.resume + ": this run is handed in already; see its " + std::string(kResultFile));
        auto read = read_quiz_journal(start.folder);
        if (!read) return refuse(err, read.error().message);
        start.resumed = std::move(*read);
        if (options.hand_in) return hand_in_as_it_stands(start, out, err);
    } else {
        auto quiz = load_quiz(options.file);
        if (!quiz) return refuse(err, quiz.error().message);
        start.quiz = std::move(*quiz);
        start.student = std::string(trimmed(options.student));
    }
    if (isatty(STDIN_FILENO) == 0 || isatty(STDOUT_FILENO) == 0) return refuse(err, "a quiz is taken in a terminal; recorded takes are marked by gripline mark FOLDER --quiz");
    if (start.student.empty() && !start.resumed) {
        out << "Your name, or the code your teacher gave you: " << std::flush;
        std::getline(std::cin, start.student);
        start.student = std::string(trimmed(start.student));
        if (start.student.empty()) return refuse(err, "a quiz needs a name or a code; --student gives it");
    }
    start.parent = options.folder;
    if (!options.device.empty()) start.device = options.device;
    start.player = options.player;
    start.keeping = options.keeping;
    if (options.ascii) start.terminal.characters = CharacterSet::ascii;
    return run_quiz(start, out, err);
}

int quiz_verify(const QuizOptions& options, std::ostream& out, std::ostream& err) {
    const auto result = load_quiz_result(options.file);
    if (!result) return refuse(err, result.error().message);
    std::error_code failed;
    const auto file = std::filesystem::is_directory(options.file, failed) ? std::filesystem::path(options.file) / kResultFile : std::filesystem::path(options.file);
    std::ostringstream text;
    text << std::ifstream(file, std::ios::binary).rdbuf();
    const PartMark mark = whole_mark(*result);
    int sounds = 0;
    for (const QuizAnswer& answer : result->answers) sounds += answer.sound.file.empty() ? 0 : 1;
    out << "As it was written: " << plain_line(result->student) << ", " << plain_line(result->title) << ", " << mark.right << " of " << mark.of << " right, " << sounds << " sounds, hand-in code " << hand_in_code(text.str())
        << ".\n" << kDigestWords << '\n';
    return kExitDone;
}

}  // namespace gripline
