// What an attempt may hold: the limits for whatever comes from outside, before it is kept.
#pragma once

#include <optional>
#include <string_view>

#include "practice/attempt.h"

namespace gripline {

inline constexpr std::size_t kLongestName_bytes = 64;
inline constexpr std::size_t kLongestText_bytes = 256;  // of other words
inline constexpr std::size_t kMostFaults = 16;
inline constexpr std::size_t kMostHeard = 16;  // notes

/// A name of a player or a guitar: at most kLongestName_bytes of UTF-8 without control characters. Nothing when it will do; `what` begins the message.
[[nodiscard]] std::optional<Error> check_name(std::string_view name, std::string_view what, bool may_be_empty);

/// Nothing when it can be kept; else which field, its value, and what is allowed.
[[nodiscard]] std::optional<Error> check(const Attempt& attempt);

}  // namespace gripline
