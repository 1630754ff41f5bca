// What a teacher says of answers after listening: a file of its own beside the result, which stays as it was handed in.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "practice/class_report.h"

namespace gripline {

inline constexpr std::string_view kOverrulesFile = "overruled.json";

/// Of the folder of a run; none when there is no such file. Errors name file and place: also one for another run.
[[nodiscard]] Result<std::vector<Overrule>> load_overrules(const std::filesystem::path& folder, const QuizResult& result);
/// Marks by ear that were said of an older marking of the same take.
struct OldOverrules {
    std::string path;  ///< where they lie now
    std::vector<Overrule> marks;
};
/// Renames the marks by ear of a folder when they are another run's than the result's, so that new ones can be written; nothing when there are none.
Result<std::optional<OldOverrules>> set_aside_old_overrules(const std::filesystem::path& folder, const QuizResult& result);
/// Writes them all; the path.
Result<std::string> save_overrules(const std::filesystem::path& folder, const QuizResult& result, const std::vector<Overrule>& overruled);

}  // namespace gripline
