// A guitar's profile as a file: TOML (toml.io, 1.0.0), one file a guitar.
#pragma once

#include <string>
#include <string_view>

#include "base/result.h"
#include "practice/guitar_profile.h"

namespace gripline {

inline constexpr std::string_view kGuitarFormat = "gripline guitar 1";
inline constexpr std::size_t kMostGuitar_bytes = 64UL * 1024;

/// Reads a profile of at most 64 KiB. Errors say line and key: `line 9, string 6, key "open-cents": 900 is out of range; -60 to 60 is allowed`.
[[nodiscard]] Result<GuitarProfile> parse_guitar(std::string_view text);
/// parse_guitar() reads it back: levels to 0.1 dB, cents to 0.01, stiffness to 1e-7.
[[nodiscard]] std::string guitar_toml(const GuitarProfile& profile);

}  // namespace gripline
