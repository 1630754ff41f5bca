// Marks one recorded take of a quiz: which strum was meant for which question, then a verdict on each, by the same chain and judge as live.
#pragma once

#include <filesystem>
#include <string>

#include "practice/quiz_result.h"

namespace gripline {

/// The questions are drawn for `student`. A part walked in time, when it is the only one, is laid along its beats, wherever in the take it begins; otherwise strums
/// go to questions in order, one a question. The result has no run number, no facts of a machine and no time of its own yet; each try's
/// sound_at_s lies in the recording. The take is listened to once; what was heard waits in a nameless file in `spool_folder` (180 kB a strum). Errors are hear_recording()'s and the drawing's.
[[nodiscard]] Result<QuizResult> mark_take(const Quiz& quiz, const std::string& student, const std::filesystem::path& take, const std::filesystem::path& spool_folder);

}  // namespace gripline
