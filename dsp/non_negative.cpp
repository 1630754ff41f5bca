#include "dsp/non_negative.h"

#include <algorithm>
#include <cmath>

namespace gripline::dsp {

void solve_non_negative(std::span<const float> gram, std::span<const float> target, std::span<float> x) noexcept {
    constexpr int kMostRounds = 200;
    constexpr float kEnough = 1e-4F;  // of the largest value, change in one round
    const std::size_t n = x.size();
    for (int round = 0; round < kMostRounds; ++round) {
        float change = 0.0F, largest = 0.0F;
        for (std::size_t i = 0; i < n; ++i) {
            const float diagonal = gram[i * n + i];
            if (diagonal <= 0.0F) continue;
            float slope = target[i];
            for (std::size_t j = 0; j < n; ++j) slope -= gram[i * n + j] * x[j];
            const float next = std::max(0.0F, x[i] + slope / diagonal);
            change = std::max(change, std::abs(next - x[i]));
            largest = std::max(largest, next);
            x[i] = next;
        }
        if (change <= kEnough * largest) return;
    }
}

}  // namespace gripline::dsp
