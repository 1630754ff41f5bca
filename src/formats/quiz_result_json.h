// Result files of quizzes: JSON (RFC 8259) of our own, described in the README, with a digest over every byte.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>

#include "practice/quiz_result.h"

namespace gripline {

inline constexpr std::string_view kResultFormat = "gripline quiz result 1";
/// Name of the result in the folder of its run.
inline constexpr std::string_view kResultFile = "result.json";

/// The file's text. Its last member, "digest", is the SHA-256 of all bytes before it; the sounds' own are among those. The same result gives the same bytes.
[[nodiscard]] std::string quiz_result_json(const QuizResult& result);

/// Reads a result and its digest. Errors: `line 3, column 7: this is no JSON`, `answers[3].tries[0].confidence: 7 is out of range ...`, or that the file was
/// altered after it was written.
[[nodiscard]] Result<QuizResult> parse_quiz_result(std::string_view text);
/// The same from a file, or the result.json of a folder; then the sounds beside it are compared too: one that is missing or altered is an error that names it. Errors
/// begin with the file's name.
[[nodiscard]] Result<QuizResult> load_quiz_result(const std::filesystem::path& path);
/// The first 8 hex digits of the digest: short enough to be written on paper when the quiz is handed in. Empty when there is none.
[[nodiscard]] std::string hand_in_code(std::string_view result_text);

/// What the digest can and can't prove, for screens and pages.
inline constexpr std::string_view kDigestWords =
    "The digest shows that nothing in the result or its sounds was altered by accident or with an editor since it was written. It can't prove who played, "
    "and whoever has this program could write a new result with a new digest: note the hand-in code when a quiz is handed in, and listen.";

}  // namespace gripline
