// The words for tunings, families, stages and string sets on the command line, read in one place for every command that takes them.
#pragma once

#include <optional>
#include <string>

#include "base/result.h"
#include "fretboard/stage.h"

namespace gripline {

/// What the options --family, --stage and --strings say; empty where nothing was said.
struct ExerciseWords {
    std::optional<Family> family;
    std::optional<StageKind> stage;
    std::optional<StringSet> strings;
};

/// "dominant-seventh" and "dominant seventh" are the same; likewise "drop-2". Errors name the option, the value and what is allowed.
[[nodiscard]] Result<ExerciseWords> read_exercise(const std::string& family, const std::string& stage, const std::string& strings);
/// The neck of --tuning, --capo and --left-handed.
[[nodiscard]] Result<Neck> read_neck(const std::string& tuning, int capo, bool left_handed);

}  // namespace gripline
