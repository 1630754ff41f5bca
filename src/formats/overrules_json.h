// What a teacher says of answers after listening: a file of its own beside the result, which stays as it was handed in.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "practice/class_report.h"

namespace gripline {

inline constexpr std::string_view kOverrulesFile = "overruled.json";

/// Of the folder of a run; none when there is no such file. Errors name file and place: also one for another run.
[[nodiscard]] Result<std::vector<Overrule>> load_overrules(const std::filesystem::path& folder, const QuizResult& result);
/// Writes them all; the path.
Result<std::string> save_overrules(const std::filesystem::path& folder, const QuizResult& result, const std::vector<Overrule>& overruled);

}  // namespace gripline
