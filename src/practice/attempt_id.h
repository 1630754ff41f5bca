// Names for attempts that no other attempt on any machine bears, so that histories can be merged without doubles.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace gripline {

/// 16 bytes as RFC 9562 (2024) has them for version 7: milliseconds since 1970 first, the rest random.
using AttemptId = std::array<std::uint8_t, 16>;

[[nodiscard]] AttemptId new_attempt_id(std::int64_t at_ms);
/// 32 hex digits, small letters, no hyphens.
[[nodiscard]] std::string text_of(const AttemptId& id);
/// Reads 32 hex digits; capitals, and hyphens anywhere, are taken too. Nothing when it is something else.
[[nodiscard]] std::optional<AttemptId> parse_attempt_id(std::string_view text);

}  // namespace gripline
