// The folder that a file lies in, also of a bare file name.
#pragma once

#include <filesystem>

namespace gripline {

/// "." for a bare name: std::filesystem's parent of that is empty, and nothing can be made, opened or told by an empty name.
[[nodiscard]] inline std::filesystem::path folder_of(const std::filesystem::path& file) {
    const std::filesystem::path folder = file.parent_path();
    return folder.empty() ? std::filesystem::path(".") : folder;
}

}  // namespace gripline
