// The quiz as a program: terminal, sound, and the loop that joins them.
#pragma once

#include <filesystem>
#include <iosfwd>
#include <optional>
#include <string>

#include "base/clock.h"
#include "base/wall_clock.h"
#include "ui/keeping_wishes.h"
#include "ui/quiz_play.h"
#include "ui/terminal.h"

namespace gripline {

struct QuizStart {
    Quiz quiz;
    std::string student;                     ///< not empty
    std::filesystem::path parent = ".";      ///< the run's folder is made in it
    std::optional<QuizJournalRead> resumed;  ///< with `folder`
    std::filesystem::path folder;            ///< of the resumed run
    std::optional<std::string> device;       ///< number or name of the input; nullopt: the remembered one
    bool player = false;                     ///< the built-in player is the input
    std::string program;                     ///< "gripline 0.1.0"
    KeepingWishes keeping;                   ///< without --who the attempts are kept under the student's name
    TerminalOptions terminal;
};

/// Runs until the quiz is handed in or the process is asked to stop (then the journal keeps it). Returns 0, or 1 with the reason on `err`.
int run_quiz(const QuizStart& options, std::ostream& out, std::ostream& err);

/// The loop by itself.
void quiz_loop(QuizPlay& play, Display& display, const Clock& clock);

/// "Linux 6.1.0 x86_64".
[[nodiscard]] std::string system_words();

}  // namespace gripline
