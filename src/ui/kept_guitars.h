// The guitars that were set up: one file each in a private folder beside the history.
#pragma once

#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "practice/guitar_profile.h"
#include "ui/keeping_wishes.h"
#include "ui/settings.h"

namespace gripline {

/// $XDG_DATA_HOME/gripline/guitars, or ~/.local/share/gripline/guitars; empty when neither variable is set.
[[nodiscard]] std::filesystem::path guitars_folder();
/// "blond archtop" is blond+archtop.toml: letters, digits and '-' stand for themselves, a space is '+', all else %hh. No name leads out of the folder.
[[nodiscard]] std::string guitar_file_name(const std::string& name);

/// A file of the folder: a profile, or why it is none.
struct KeptGuitar {
    std::filesystem::path file;
    Result<GuitarProfile> profile;
};
/// All files of the folder by their names; a folder that is not there holds none.
[[nodiscard]] std::vector<KeptGuitar> kept_guitars(const std::filesystem::path& folder);

/// The guitar of that name: nothing when it was not set up. An error says what is wrong with its file.
[[nodiscard]] Result<std::optional<GuitarProfile>> load_guitar(const std::filesystem::path& folder, const std::string& name);
/// Puts it in place of an older one of the same name, which stays whole until then. The folder is made (0700), the file is private (0600).
[[nodiscard]] std::optional<Error> keep_guitar(const std::filesystem::path& folder, const GuitarProfile& profile);
/// Deletes its file, also one that can't be read. False: there was none.
[[nodiscard]] Result<bool> delete_guitar(const std::filesystem::path& folder, const std::string& name);

/// What the judge is to know: the guitar of that name, when there is one; nullptr otherwise. What is wrong with its file goes to `complaints`.
[[nodiscard]] std::shared_ptr<const KnownGuitar> known_guitar_named(const std::string& name, std::vector<std::string>& complaints);
/// The guitar that has to be known: an error tells what is wrong with its file, or, when none is set up under that name, which are. nullptr: no name.
[[nodiscard]] Result<std::shared_ptr<const KnownGuitar>> asked_guitar(const std::string& name);
/// As known_guitar_named, of the guitar that the command line names, or else the remembered one.
[[nodiscard]] std::shared_ptr<const KnownGuitar> known_guitar_wished(const KeepingWishes& wishes, const Settings& settings, std::vector<std::string>& complaints);

}  // namespace gripline
