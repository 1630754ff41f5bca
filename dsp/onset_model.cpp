#include "dsp/onset_model.h"

#include <algorithm>
#include <cmath>

namespace gripline::dsp {

float onset_chance(const OnsetMeasures& measures) noexcept {
    float score = kOnsetTable.bias2;
    for (std::size_t h = 0; h < kOnsetHidden; ++h) {
        float sum = kOnsetTable.biases1[h];
        for (std::size_t i = 0; i < kOnsetMeasures; ++i) sum += kOnsetTable.weights1[h * kOnsetMeasures + i] * measures[i];
        score += kOnsetTable.weights2[h] * std::max(0.0F, sum);
    }
    return 1.0F / (1.0F + std::exp(-score));
}

}  // namespace gripline::dsp
