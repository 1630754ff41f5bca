// How long a sound takes from output to input, kept for each pair of devices: delays.json beside the settings.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "ui/walk_sound.h"

namespace gripline {

struct KeptDelay {
    std::string input, output;  ///< names of the devices
    MeasuredDelay delay;
    std::string measured_on;    ///< "2026-11-25"
};

/// Beside settings_path(); empty when there is no such folder.
[[nodiscard]] std::filesystem::path delays_path();
/// A missing file holds none. An error says what is wrong with the file; rows that can't be are an error too. At most 64 KiB are read.
[[nodiscard]] Result<std::vector<KeptDelay>> load_delays(const std::filesystem::path& path);
/// Puts the pair's delay in place of an older one. A file that can't be read is kept as delays.json.unreadable. The new file is written beside
/// the old one and renamed.
[[nodiscard]] std::optional<Error> keep_delay(const std::filesystem::path& path, const KeptDelay& delay);
/// Of the pair; nothing when it was never measured.
[[nodiscard]] std::optional<MeasuredDelay> delay_of(const std::vector<KeptDelay>& delays, const std::string& input, const std::string& output);

}  // namespace gripline
