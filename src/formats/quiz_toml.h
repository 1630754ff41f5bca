// Quiz files: TOML (toml.io, 1.0.0) with keys of our own, described in the README.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>

#include "practice/quiz.h"

namespace gripline {

/// What the first line of a quiz file's keys says: `format = "gripline quiz 1"`.
inline constexpr std::string_view kQuizFormat = "gripline quiz 1";

/// Reads a quiz of at most 256 KiB and draws it once, so that what is returned can be asked. A chart is a name of the library, a file relative to
/// `folder`, or stands in the quiz itself. Errors say line and key: `line 9, part 2, key "number": 0 is out of range; 1 to 2000 is allowed`.
[[nodiscard]] Result<Quiz> parse_quiz(std::string_view text, const std::filesystem::path& folder = {});
/// The same from a file; errors begin with its name.
[[nodiscard]] Result<Quiz> load_quiz(const std::filesystem::path& path);

/// The quiz as a file that stands alone, charts within; parse_quiz() reads it back to an equal quiz. Two equal quizzes give the same text.
[[nodiscard]] std::string quiz_toml(const Quiz& quiz);
/// SHA-256 of quiz_toml(), 64 hex digits: tells whether two results are of one quiz. Comments and the order of keys don't matter.
[[nodiscard]] std::string quiz_fingerprint(const Quiz& quiz);

}  // namespace gripline
