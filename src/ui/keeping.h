// Whose attempts are kept where: what the command line says, what is remembered, and what is the case without either.
#pragma once

#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "practice/attempt_keeper.h"
#include "ui/keeping_wishes.h"
#include "ui/settings.h"

namespace gripline {

/// The history meant: the wish, or history_path(). Empty when there is no place for one.
[[nodiscard]] std::filesystem::path history_file(const std::string& wish);

/// Player: the wish, else the one remembered, else the login's name. Nothing when nothing is to be kept, or there is no place for it, which `complaints`
/// then says. An error when a name of the command line will not do.
[[nodiscard]] Result<std::optional<KeeperConfig>> keeper_config(const KeepingWishes& wishes, const Settings& settings, std::vector<std::string>& complaints);

/// All in one, for commands that keep their own settings no further: names are looked up and remembered, complaints go to `complaints`. `who`: the player where
/// the wishes name none; empty: as keeper_config(). Nullptr: nothing is to be kept.
[[nodiscard]] Result<std::unique_ptr<AttemptKeeper>> open_keeper(const KeepingWishes& wishes, const std::string& who, std::vector<std::string>& complaints);

/// The names of the wishes are remembered.
void remember(const KeepingWishes& wishes, Settings& settings);

}  // namespace gripline
