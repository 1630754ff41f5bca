// SHA-256 (FIPS 180-4), by Nettle. The one place that knows that library.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>

#include "base/result.h"

namespace gripline {

/// 64 hex digits.
[[nodiscard]] std::string sha256_hex(std::string_view bytes);
/// Of a file's bytes, read block by block; an error names the file.
[[nodiscard]] Result<std::string> sha256_of_file(const std::filesystem::path& path);

}  // namespace gripline
