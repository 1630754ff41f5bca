// Where the history lies and how it is opened: private, brought to this version with a copy first, a damaged file set aside.
#pragma once

#include <filesystem>
#include <memory>
#include <string>

#include "base/result.h"
#include "practice/history.h"

namespace gripline {

/// $XDG_DATA_HOME/gripline/history.sqlite, or ~/.local/share/gripline/history.sqlite (XDG Base Directory Specification 0.8: a relative
/// XDG_DATA_HOME does not count). Empty when neither variable is set.
[[nodiscard]] std::filesystem::path history_path();

struct OpenedHistory {
    std::unique_ptr<History> history;
    std::string notice;  ///< what the player must know: a damaged file set aside, a copy made; empty: nothing
};

/// Opens the history for reading and writing, and makes it when it is missing: folder 0700, file 0600. An older version is copied to
/// "history.version-1.sqlite" beside it, then brought to this one. A damaged or foreign file is renamed to "history.damaged-DATE-TIME.sqlite" and a new
/// history begun. An error leaves all as it was: no folder, no rights, disk full, a newer gripline's file.
[[nodiscard]] Result<OpenedHistory> open_history(const std::filesystem::path& file);

/// Opens it to be read; a missing one is empty, and stays missing. Also where nothing can be written.
[[nodiscard]] Result<OpenedHistory> open_history_to_read(const std::filesystem::path& file);

/// Opens it as it lies there, to be read, also when it is damaged; nothing of it is changed. An error when it is no history of this version.
[[nodiscard]] Result<std::unique_ptr<History>> open_history_as_it_is(const std::filesystem::path& file);

/// Renames a damaged file, with its log, out of the way; nothing may have it open. The new name.
[[nodiscard]] Result<std::filesystem::path> set_history_aside(const std::filesystem::path& file);

/// Copies that migrations made beside `file`; they hold what players have deleted since.
[[nodiscard]] std::vector<std::filesystem::path> history_copies(const std::filesystem::path& file);

}  // namespace gripline
