#include "dsp/non_negative.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace gripline::dsp {

void solve_non_negative(std::span<const float> gram, std::span<const float> target, std::span<float> x) noexcept {
    constexpr int kMostRounds = 200;
    constexpr float kEnough = 1e-4F;  // of the largest value, change in one round
    const std::size_t n = x.size();
    std::array<float, kMostUnknowns> slope{};
    for (std::size_t i = 0; i < n; ++i) {
        slope[i] = target[i];
        for (std::size_t j = 0; j < n; ++j) slope[i] -= gram[i * n + j] * x[j];
    }
    for (int round = 0; round < kMostRounds; ++round) {
        float change = 0.0F, largest = 0.0F;
        for (std::size_t i = 0; i < n; ++i) {
            const float diagonal = gram[i * n + i];
            if (diagonal <= 0.0F) continue;
            const float next = std::max(0.0F, x[i] + slope[i] / diagonal), step = next - x[i];
            largest = std::max(largest, next);
            if (step == 0.0F) continue;
            change = std::max(change, std::abs(step));
            x[i] = next;
            for (std::size_t j = 0; j < n; ++j) slope[j] -= gram[i * n + j] * step;
        }
        if (change <= kEnough * largest) return;
    }
}

}  // namespace gripline::dsp
