// The questions of a quiz as lines of JSON.
#pragma once

#include <cstddef>
#include <string>

#include "practice/quiz.h"

namespace gripline {

/// question (from 1), part (from 1), asked, chord, bass, grip, quality, root, family, stage, strings, role; from, motion, joint, bar, beat, at_s where
/// there are such.
[[nodiscard]] std::string quiz_question_json(std::size_t number, const QuizQuestion& question);

}  // namespace gripline
