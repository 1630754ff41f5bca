#include "cli/exercise_words.h"

#include <algorithm>

namespace gripline {

namespace {

std::string with_blanks(std::string text) {
    std::replace(text.begin(), text.end(), '-', ' ');
    return text;
}

Error option_error(const char* option, const Error& why) { return Error{std::string(option) + ": " + why.message}; }

}  // namespace

Result<ExerciseWords> read_exercise(const std::string& family, const std::string& stage, const std::string& strings) {
    ExerciseWords out;
    if (!family.empty()) {
        const auto read = parse_family(with_blanks(family));
        if (!read) return option_error("--family", read.error());
        out.family = *read;
    }
    if (!stage.empty()) {
        const auto read = parse_stage_kind(with_blanks(stage));
        if (!read) return option_error("--stage", read.error());
        out.stage = *read;
    }
    if (!strings.empty()) {
        const auto read = StringSet::parse(strings);
        if (!read) return option_error("--strings", read.error());
        out.strings = *read;
    }
    return out;
}

Result<Neck> read_neck(const std::string& tuning, int capo, bool left_handed) {
    auto open = Tuning::parse(tuning);
    if (!open) return option_error("--tuning", open.error());
    Neck neck;
    neck.tuning = *open;
    neck.capo = capo;
    neck.left_handed = left_handed;
    return checked(neck);
}

}  // namespace gripline
