// Tells the start of a strum from squeaks, clicks, thumps and speech: a small fitted model over a few measures of a candidate and a
// coarse picture of the sound around it.
#pragma once

#include <array>

namespace gripline::dsp {

inline constexpr int kOnsetMeasures = 20;
using OnsetMeasures = std::array<float, kOnsetMeasures>;

inline constexpr int kOnsetBands = 24;     ///< 47 Hz wide to 700 Hz, then a sixth of an octave and more, to 4.5 kHz
inline constexpr int kOnsetHops = 27;      ///< of the detector: 69 ms before the candidate to 69 ms after
inline constexpr int kOnsetChannels = 16;  ///< of each of two convolutions over time, each of which moves on by two
inline constexpr int kOnsetReach = 5;
inline constexpr int kOnsetSteps1 = (kOnsetHops - kOnsetReach + 2) / 2;
inline constexpr int kOnsetSteps2 = (kOnsetSteps1 - kOnsetReach + 2) / 2;
inline constexpr int kOnsetSeen = 24;      ///< numbers that the picture comes down to, beside the measures
inline constexpr int kOnsetHidden = 32;
inline constexpr int kOnsetHidden2 = 16;
/// Log10 of the power of each band at each hop against the whole power of the strongest hop, -6 to 0, plus 3.
using OnsetPicture = std::array<std::array<float, kOnsetHops>, kOnsetBands>;

/// Chance, 0 to 1, that a strum begins at a candidate that looks so. Allocates nothing.
[[nodiscard]] float onset_chance(const OnsetMeasures& measures, const OnsetPicture& picture) noexcept;

/// Row-major, outputs first; of the convolutions outputs x inputs x reach. Made by tests/bench/training.
struct OnsetTable {
    std::array<float, kOnsetChannels * kOnsetBands * kOnsetReach> convolution1;
    std::array<float, kOnsetChannels> convolution1_biases;
    std::array<float, kOnsetChannels * kOnsetChannels * kOnsetReach> convolution2;
    std::array<float, kOnsetChannels> convolution2_biases;
    std::array<float, kOnsetSeen * kOnsetChannels * kOnsetSteps2> seen;
    std::array<float, kOnsetSeen> seen_biases;
    std::array<float, kOnsetHidden * (kOnsetMeasures + kOnsetSeen)> hidden;
    std::array<float, kOnsetHidden> hidden_biases;
    std::array<float, kOnsetHidden2 * kOnsetHidden> hidden2;
    std::array<float, kOnsetHidden2> hidden2_biases;
    std::array<float, kOnsetHidden2> score;
    std::array<float, 1> score_bias;
};
/// Models of one shape, fitted from different beginnings, whose chances are averaged.
inline constexpr int kOnsetModels = 2;
extern const std::array<OnsetTable, kOnsetModels> kOnsetTables;

}  // namespace gripline::dsp
