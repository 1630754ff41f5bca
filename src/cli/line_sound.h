// A line played by the built-in strings, into a WAV file.
#pragma once

#include <optional>
#include <string>

#include "chart/chart.h"
#include "fretboard/neck.h"
#include "lines/line.h"

namespace gripline {

/// The longest file: an hour of sound is 300 MB.
inline constexpr double kLongestSound_s = 3600.0;
inline constexpr int kMostChoruses = 20;
/// Silence before the first beat, without a click: a strum on the first frame has nothing before it to stand out from, and is not heard.
inline constexpr double kLeadIn_s = 1.0;

struct LineSoundConfig {
    int rate_hz = 44100;   ///< 8000 to 192000
    double a4_hz = 440.0;
    bool click = false;    ///< a click on every count, higher on 1, and a bar of it in front instead of kLeadIn_s
    int choruses = 1;      ///< how often the whole line is played, 1 to kMostChoruses
    bool answer = false;   ///< every other chorus is left to the player: clicks alone
    double faster_bpm = 0.0;  ///< each chorus so many counts a minute faster than the one before, up to kMostTempo_bpm
};

/// Where the beats of the line sound, in seconds from the start of the file, chorus after chorus; those that are left to the player are not among them.
[[nodiscard]] std::vector<double> sound_starts_s(const Chart& chart, const Line& line, const LineSoundConfig& config);

/// Writes the line at the chart's tempo (of the first chorus), struck short, the bass accented, 2 and 4 a little heavier, at a quiet level (peaks near 18 dB below full scale).
/// Returns what went wrong, or nothing. Refuses more than kLongestSound_s.
[[nodiscard]] std::optional<Error> write_line_sound(const std::string& path, const Chart& chart, const Line& line, const Neck& neck, const LineSoundConfig& config);

}  // namespace gripline
