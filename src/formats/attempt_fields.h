// An attempt as one JSON object and back. Only .cpp files of this folder include it, for it knows the JSON library.
#pragma once

#include <nlohmann/json.hpp>

#include <string>

#include "base/result.h"
#include "practice/attempt.h"

namespace gripline {

[[nodiscard]] nlohmann::ordered_json attempt_fields(const Attempt& attempt);
/// Errors name the field, its value and what is allowed.
[[nodiscard]] Result<Attempt> attempt_from(const nlohmann::ordered_json& fields);

/// RFC 3339: "2026-11-25T08:15:30.123+01:00", also with fewer or more digits, or without, and with Z.
struct WrittenTime {
    std::int64_t at_ms = 0;
    int utc_offset_min = 0;
};
[[nodiscard]] Result<WrittenTime> parse_time(const std::string& text);

}  // namespace gripline
