// What the command line says of keeping attempts.
#pragma once

#include <optional>
#include <string>

namespace gripline {

struct KeepingWishes {
    std::optional<std::string> who;     ///< the player's name
    std::optional<std::string> guitar;  ///< empty: none is named any more
    std::string history;                ///< a file instead of history_path(); what the built-in player plays is kept only there
    bool none = false;                  ///< nothing is kept
};

}  // namespace gripline
