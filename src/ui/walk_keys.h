// The keys of the walk screen: one table for pressing, showing and explaining.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ui/practice_view.h"
#include "ui/terminal.h"

namespace gripline {

enum class WalkCommand {
    start_stop, help, quit, faster, slower, click, softer, louder, line_player, tempo_steps,
    first_bar_on, first_bar_back, last_bar_on, last_bar_back, all_bars, landing, player_plays, player_mistake,
};

/// What a key asks for; nothing for a key without a meaning.
[[nodiscard]] std::optional<WalkCommand> walk_command(const KeyPress& key);
/// Short words for the screen's foot. `walking`: music runs, so that only what works then is among them. `player`: the built-in player is the input.
[[nodiscard]] std::vector<KeyWords> walk_key_words(bool walking, bool player);
/// One line for each key, for the help.
[[nodiscard]] std::vector<std::string> walk_key_lines();

}  // namespace gripline
