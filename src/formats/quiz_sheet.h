// A quiz as a page to print: what is asked, with or without the grips.
#pragma once

#include <iosfwd>
#include <string>

#include "practice/quiz.h"

namespace gripline {

struct QuizSheetOptions {
    std::string student;   ///< shown when it is not empty, and the questions are theirs
    bool answers = false;  ///< with the grips; otherwise empty necks to draw them on, except where the quiz shows them
};

/// One page of HTML with pictures in it; no script, nothing from elsewhere, all names escaped. By-ear questions show no chord without answers.
void write_quiz_sheet(const Quiz& quiz, const std::vector<QuizQuestion>& questions, const QuizSheetOptions& options, std::ostream& out);

}  // namespace gripline
