// The clock on the wall, for what is kept: when something happened, and on which day by the player's clock.
#pragma once

#include <chrono>
#include <cstdint>
#include <ctime>

namespace gripline {

/// Milliseconds since 1970-01-01 00:00 UTC.
[[nodiscard]] inline std::int64_t wall_clock_ms() {
    return std::chrono::duration_cast<std::chrono::milliseconds>(std::chrono::system_clock::now().time_since_epoch()).count();
}

/// How far the local clock is east of UTC at that time (seconds since 1970), in minutes.
[[nodiscard]] inline int utc_offset_minutes(std::time_t at = std::time(nullptr)) {
    std::tm local{};
    return localtime_r(&at, &local) == nullptr ? 0 : static_cast<int>(local.tm_gmtoff / 60);
}

}  // namespace gripline
