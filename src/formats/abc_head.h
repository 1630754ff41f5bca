// Fields of ABC (standard 2.1, section 3) as a chart takes them. Internal to src/formats.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "chart/chart.h"

namespace gripline::abc {

/// "Bb", "F#m", "D dorian clef=bass". `mode` is set to the mode's word when it is neither major nor minor. nullopt inside: no key ("none", "HP", empty).
[[nodiscard]] Result<std::optional<Key>> read_key(std::string_view text, std::string& mode);
/// "4/4", "C", "C|".
[[nodiscard]] Result<Meter> read_meter(std::string_view text);
/// "1/8": a fraction of a whole note, from 1 to a 512th.
[[nodiscard]] Result<double> read_fraction(std::string_view text);
/// "1/4=120", "\"Lively\" 3/8=80", "120" (of unit notes): quarters a minute; nullopt when it names no number.
[[nodiscard]] Result<std::optional<double>> read_tempo(std::string_view text, double unit);
/// Without escapes (\% and \\), as text of a chart.
[[nodiscard]] std::string plain_text(std::string_view text);
/// The line without its comment: up to the first % that is not escaped.
[[nodiscard]] std::string_view without_comment(std::string_view line);
/// "K:" and the like at the front of a line, which then is no music ("C:|" is).
[[nodiscard]] bool is_field(std::string_view line);

}  // namespace gripline::abc
