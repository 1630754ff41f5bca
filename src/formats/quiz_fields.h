// Fields that quiz questions and quiz results share. Only the .cpp files of this folder include it, for it knows the JSON library.
#pragma once

#include <nlohmann/json.hpp>

#include "practice/quiz.h"

namespace gripline {

[[nodiscard]] nlohmann::ordered_json question_fields(const QuizQuestion& question);

}  // namespace gripline
