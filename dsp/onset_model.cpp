#include "dsp/onset_model.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace gripline::dsp {

namespace {

/// A convolution over time that moves on by two, rectified.
template <std::size_t Inputs, std::size_t Steps, std::size_t Outputs, std::size_t Weights>
auto convolve(const std::array<std::array<float, Steps>, Inputs>& in, const std::array<float, Weights>& weights, const std::array<float, Outputs>& biases) noexcept {
    constexpr std::size_t kReach = kOnsetReach, kOut = (Steps - kReach + 2) / 2;
    static_assert(Weights == Outputs * Inputs * kReach);
    std::array<std::array<float, kOut>, Outputs> out;
    const float* w = weights.data();
    for (std::size_t o = 0; o < Outputs; ++o) {
        out[o].fill(biases[o]);
        for (std::size_t i = 0; i < Inputs; ++i)
            for (std::size_t k = 0; k < kReach; ++k, ++w)
                for (std::size_t t = 0; t < kOut; ++t) out[o][t] += *w * in[i][2 * t + k];
        for (float& v : out[o]) v = std::max(0.0F, v);
    }
    return out;
}

template <std::size_t Inputs, std::size_t Outputs, std::size_t Weights>
void layer(const std::array<float, Inputs>& in, const std::array<float, Weights>& weights, const std::array<float, Outputs>& biases, float* out) noexcept {
    static_assert(Weights == Outputs * Inputs);
    for (std::size_t o = 0; o < Outputs; ++o) {
        float sum = biases[o];
        for (std::size_t i = 0; i < Inputs; ++i) sum += weights[o * Inputs + i] * in[i];
        out[o] = std::max(0.0F, sum);
    }
}

float chance_by(const OnsetTable& t, const OnsetMeasures& measures, const OnsetPicture& picture) noexcept {
    const auto rough = convolve(convolve(picture, t.convolution1, t.convolution1_biases), t.convolution2, t.convolution2_biases);
    std::array<float, kOnsetChannels * kOnsetSteps2> flat;
    auto at = flat.begin();
    for (const auto& row : rough) at = std::copy(row.begin(), row.end(), at);
    std::array<float, kOnsetMeasures + kOnsetSeen> in;
    std::copy(measures.begin(), measures.end(), in.begin());
    layer(flat, t.seen, t.seen_biases, &in[kOnsetMeasures]);
    std::array<float, kOnsetHidden> hidden;
    layer(in, t.hidden, t.hidden_biases, hidden.data());
    std::array<float, kOnsetHidden2> hidden2;
    layer(hidden, t.hidden2, t.hidden2_biases, hidden2.data());
    float score = t.score_bias[0];
    for (std::size_t i = 0; i < hidden2.size(); ++i) score += t.score[i] * hidden2[i];
    return 1.0F / (1.0F + std::exp(-score));
}

}  // namespace

float onset_chance(const OnsetMeasures& measures, const OnsetPicture& picture) noexcept {
    float sum = 0.0F;
    for (const OnsetTable& table : kOnsetTables) sum += chance_by(table, measures, picture);
    return sum / kOnsetModels;
}

}  // namespace gripline::dsp
