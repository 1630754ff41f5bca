// The keys of the practice screen: one table for pressing, showing and explaining.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ui/practice_view.h"
#include "ui/terminal.h"

namespace gripline {

enum class PracticeCommand {
    help, quit, pause, again, next, back, hear_target, hear_key, hear_bass_first, hear_notes, show_grip, player_right, player_mistake,
    root_up, root_down, family, stage, string_set, order, faster, slower, input, tuner, progress,
};

/// What a key asks for; nothing for a key without a meaning.
[[nodiscard]] std::optional<PracticeCommand> practice_command(const KeyPress& key);
/// Short words for the screen's foot. `player`: the built-in player is the input, so its keys are among them. `hidden`: the way of asking that hides the grip now.
[[nodiscard]] std::vector<KeyWords> practice_key_words(bool player, std::optional<Asking> hidden = {});
/// One line for each key, for the help.
[[nodiscard]] std::vector<std::string> practice_key_lines();

}  // namespace gripline
