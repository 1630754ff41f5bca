// Fields that lines of JSON about verdicts share. Only the .cpp files of this folder include it, for it knows the JSON library.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "judge/verdict.h"

namespace gripline {

/// One line; bytes that are no UTF-8 become U+FFFD.
[[nodiscard]] std::string dumped(const nlohmann::ordered_json& json);
/// Rounded to `places` decimals; null where it isn't a number.
[[nodiscard]] nlohmann::ordered_json rounded(double value, int places);
/// ["C3", "Bb3"].
[[nodiscard]] nlohmann::ordered_json names(const std::vector<MidiNote>& notes);
/// One object a fault: kind, string, frets, asked, heard, probability.
[[nodiscard]] nlohmann::ordered_json faults_field(const std::vector<Fault>& faults);

}  // namespace gripline
