// What the program remembers from one start to the next: the chosen input and the last exercise.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "base/result.h"

namespace gripline {

/// All as words, so that the file can be read and edited by hand. Whoever uses a word checks it.
struct Settings {
    std::string device;                        ///< name of the input device; empty: the system's own choice
    std::string root = "C";
    std::string family = "dominant seventh";
    std::string stage = "shell";
    std::string string_set = "6-4-3";
    std::string order = "up";
    std::string who;                           ///< the player's name in the history; empty: the login's
    std::string guitar;                        ///< likewise; empty: none named
    bool cautions_read = false;
    friend bool operator==(const Settings&, const Settings&) = default;
};

/// $XDG_CONFIG_HOME/gripline/settings.json, or ~/.config/gripline/settings.json (XDG Base Directory Specification 0.8: a relative
/// XDG_CONFIG_HOME does not count). Empty when neither variable is set.
[[nodiscard]] std::filesystem::path settings_path();

/// Settings, and what was wrong with the file: one sentence each, with file, place, value and what is used instead.
struct LoadedSettings {
    Settings settings;
    std::vector<std::string> complaints;
    bool unreadable = false;  ///< the file is there and is no settings file: saving sets it aside first
};

/// A missing file is no fault: the defaults. At most 64 KiB are read.
[[nodiscard]] LoadedSettings load_settings(const std::filesystem::path& path);
/// Writes a new file beside it and renames it, so that a killed process leaves the old one whole. `set_aside`: an unreadable file
/// is kept as settings.json.unreadable. Returns an empty text, or what went wrong.
[[nodiscard]] std::string save_settings(const std::filesystem::path& path, const Settings& settings, bool set_aside);

}  // namespace gripline
