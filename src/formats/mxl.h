// Compressed MusicXML 4.0 (.mxl): a zip archive with the score and a table of contents; libzip, which this file pair alone sees.
#pragma once

#include <string>
#include <string_view>

#include "base/result.h"

namespace gripline {

/// Bounds of what is read: the archive, and what it unpacks to.
inline constexpr std::size_t kMostMxl_bytes = 16U << 20U;
inline constexpr std::size_t kMostUnpacked_bytes = 16U << 20U;
inline constexpr int kMostMxlFiles = 1000;

/// The bytes of an archive with this score: the media type first, not compressed, then META-INF/container.xml, then the score.
[[nodiscard]] Result<std::string> mxl_bytes(const std::string& music_xml);

/// The score that the archive's container.xml names, unpacked in memory: nothing is written to disk. Errors: no zip archive, damaged, encrypted, too many files, no
/// container, no score by its name, more unpacked than the bound (a zip bomb is left off there).
[[nodiscard]] Result<std::string> read_mxl(std::string_view bytes);

}  // namespace gripline
