// Tells the start of a strum from squeaks, clicks, thumps and speech: a small fitted model over a few measures of a candidate.
#pragma once

#include <array>

namespace gripline::dsp {

inline constexpr int kOnsetMeasures = 20;
using OnsetMeasures = std::array<float, kOnsetMeasures>;

/// Chance, 0 to 1, that a strum begins at a candidate with these measures. Coefficients: onset_table.cpp, made by tests/bench/training.
[[nodiscard]] float onset_chance(const OnsetMeasures& measures) noexcept;

inline constexpr int kOnsetHidden = 32;
struct OnsetTable {
    std::array<float, kOnsetMeasures * kOnsetHidden> weights1;  ///< row-major, hidden x measures
    std::array<float, kOnsetHidden> biases1;
    std::array<float, kOnsetHidden> weights2;
    float bias2;
};
extern const OnsetTable kOnsetTable;

}  // namespace gripline::dsp
