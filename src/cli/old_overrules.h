// Marks by ear that an older marking of a take left behind: set aside, and how to say them again.
#pragma once

#include <filesystem>
#include <string>

#include "practice/quiz_result.h"

namespace gripline {

/// Sets them aside when the folder's are not the result's. A sentence for the teacher with where they lie now and the commands that say them again; empty when
/// there was nothing to do.
[[nodiscard]] std::string set_aside_words(const std::filesystem::path& folder, const QuizResult& result);

}  // namespace gripline
