// How late known clicks come in a recording: what a calibration measures. Pure.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "base/result.h"

namespace gripline {

/// Where delays are looked for. Outputs and inputs with what they tell of their own delay taken off: from a little less than nothing, for devices
/// that tell too much, to a wireless headphone's third of a second (common practice, no source).
struct DelayRange {
    double least_ms = -60.0, most_ms = 400.0;
};

struct ClickDelays {
    std::vector<std::optional<double>> single_ms;  ///< one a click; nothing: not found
    int found = 0;
    double delay_ms = 0.0;   ///< median of those found
    double spread_ms = 0.0;  ///< their standard deviation, one stray in ten left out
};

/// When clicks or claps began that were sounded at `starts_s` of the recording, if nothing delayed them. Clicks are those of render_click (not accented) at rate_hz:
/// found by a matched filter on the twice-differenced sound, which leaves little of voices and hum. A click is found when it stands out of the rest of its
/// own stretch of sound.
[[nodiscard]] ClickDelays find_clicks(std::span<const float> sound, int rate_hz, std::span<const double> starts_s, const DelayRange& range = {});
/// The same for claps, or any short sound that a player makes together with a click: when its energy rises.
[[nodiscard]] ClickDelays find_claps(std::span<const float> sound, int rate_hz, std::span<const double> starts_s, const DelayRange& range);

/// What is asked of a measurement. `heard_share`: of the clicks, so many must be found.
struct DelayLimits {
    double heard_share = 0.7;
    double most_spread_ms = 2.0;
};
/// A loopback jitters by well under a millisecond (measured on a private PulseAudio: 0.0 ms); a player who claps by 10 to 30 (common practice, no source).
inline constexpr DelayLimits kClickLimits{0.7, 2.0}, kClapLimits{0.7, 30.0};

/// Nothing, or why the measurement is no good and what to do.
[[nodiscard]] std::optional<Error> check_delays(const ClickDelays& delays, const DelayLimits& limits);

}  // namespace gripline
