// Fields that quiz questions, results and journals share. Only the .cpp files of this folder include it, for it knows the JSON library.
#pragma once

#include <nlohmann/json.hpp>

#include "formats/json_keys.h"
#include "practice/quiz_result.h"

namespace gripline {

[[nodiscard]] nlohmann::ordered_json question_fields(const QuizQuestion& question);
/// tuning, capo and a4_hz are the quiz's.
void read_question(JsonKeys& keys, const Tuning& tuning, int capo, double a4_hz, QuizQuestion& question);

[[nodiscard]] nlohmann::ordered_json try_fields(const QuizTry& one);
void read_try(JsonKeys& keys, int strings, QuizTry& one);

/// outcome, used_s, sound: what an answer has besides its question and its tries.
void put_outcome(nlohmann::ordered_json& out, const QuizAnswer& answer);
void read_outcome(JsonKeys& keys, QuizAnswer& answer);

[[nodiscard]] nlohmann::ordered_json facts_fields(const QuizFacts& facts);
void read_facts(JsonKeys& keys, QuizFacts& facts);
[[nodiscard]] nlohmann::ordered_json break_fields(const QuizBreak& one);
void read_break(JsonKeys& keys, QuizBreak& one);

}  // namespace gripline
