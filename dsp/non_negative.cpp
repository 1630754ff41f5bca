#include "dsp/non_negative.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "dsp/widest.h"

namespace gripline::dsp {

namespace {

constexpr std::size_t kLanes = 8;

[[gnu::always_inline]] inline void subtract(float* from, const float* row, std::size_t padded, float step) noexcept {
    for (std::size_t v = 0; v < padded; v += kLanes)
        for (std::size_t lane = 0; lane < kLanes; ++lane) from[v + lane] -= row[v + lane] * step;
}

}  // namespace

GRIPLINE_WIDEST void solve_non_negative(std::span<const float> gram, std::span<const float> target, std::span<float> x) noexcept {
    constexpr int kMostRounds = 200;
    constexpr float kEnough = 1e-4F;  // of the largest value, change in one round
    static_assert(kMostUnknowns % kLanes == 0);
    const std::size_t n = x.size(), padded = (n + kLanes - 1) / kLanes * kLanes;
    // Rows of whole vectors, so that no loop has a rest: a third of a verdict's time goes into it.
    alignas(32) std::array<float, kMostUnknowns * kMostUnknowns> rows;
    alignas(32) std::array<float, kMostUnknowns> slope{};
    std::array<float, kMostUnknowns> inverse;  // of the diagonal; 0 where that is
    for (std::size_t i = 0; i < n; ++i) {
        slope[i] = target[i];
        inverse[i] = gram[i * n + i] > 0.0F ? 1.0F / gram[i * n + i] : 0.0F;
        for (std::size_t j = 0; j < padded; ++j) rows[i * padded + j] = j < n ? gram[i * n + j] : 0.0F;
    }
    for (std::size_t i = 0; i < n; ++i)
        if (x[i] != 0.0F) subtract(slope.data(), &rows[i * padded], padded, x[i]);
    for (int round = 0; round < kMostRounds; ++round) {
        float change = 0.0F, largest = 0.0F;
        for (std::size_t i = 0; i < n; ++i) {
            const float next = std::max(0.0F, x[i] + slope[i] * inverse[i]), step = next - x[i];
            largest = std::max(largest, next);
            if (step == 0.0F) continue;
            change = std::max(change, std::abs(step));
            x[i] = next;
            subtract(slope.data(), &rows[i * padded], padded, step);
        }
        if (change <= kEnough * largest) return;
    }
}

}  // namespace gripline::dsp
