#include "dsp/first_string.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "dsp/strum_evidence.h"

namespace gripline::dsp {

namespace {

constexpr int kSettling = 512;   // frames: the filters forget what came before (43 ms)
constexpr float kLeastLog = -6.0F, kMiddleLog = 3.0F;
constexpr float kPerBlock = 0.09F;      // log of chance: starts lie near the steepest rise, on average 15 ms away at most
constexpr std::size_t kRiseBlocks = 6;  // 8 ms
constexpr float kLeastRise = 0.5F;      // 5 dB
constexpr int kFirst = 8, kLast = kStartBlocks - 10;  // blocks in which a start is looked for: the others lack neighbours

/// One output row of a convolution over time, blocks beyond the ends read as 0.
template <std::size_t Inputs>
void convolve(const std::array<std::array<float, kStartBlocks>, Inputs>& in, const float* weights, int reach, int step, float bias, std::array<float, kStartBlocks>& out) {
    out.fill(bias);
    for (const auto& row : in) {
        for (int k = 0; k < reach; ++k) {
            const float w = *weights++;
            const int shift = (k - reach / 2) * step;
            const int from = std::max(0, -shift), to = std::min(kStartBlocks, kStartBlocks - shift);
            for (int t = from; t < to; ++t) out[static_cast<std::size_t>(t)] += w * row[static_cast<std::size_t>(t + shift)];
        }
    }
    for (float& v : out) v = std::max(0.0F, v);
}

template <std::size_t Inputs, std::size_t Weights>
void layer(const std::array<std::array<float, kStartBlocks>, Inputs>& in, const std::array<float, Weights>& weights, const std::array<float, kStartHidden>& biases, int reach, int step,
           std::array<std::array<float, kStartBlocks>, kStartHidden>& out) {
    static_assert(Weights % (kStartHidden * Inputs) == 0);
    for (std::size_t o = 0; o < kStartHidden; ++o) convolve(in, &weights[o * Inputs * static_cast<std::size_t>(reach)], reach, step, biases[o], out[o]);
}

/// Whether some band grows at block `t`: what beats while it rings on doesn't begin there.
bool rises(const FirstString::Blocks& blocks, std::size_t t) {
    for (const auto& row : blocks) {
        float before = 0.0F, after = 0.0F;
        for (std::size_t k = 1; k <= kRiseBlocks; ++k) {
            before += row[t - k];
            after += row[t + k];
        }
        if (after - before > kLeastRise * static_cast<float>(kRiseBlocks)) return true;
    }
    return false;
}

}  // namespace

FirstString::FirstString() noexcept {
    // Second-order filters of Bristow-Johnson's cookbook (W3C note "Audio EQ Cookbook", 2021).
    const auto make = [](double hz, double q, int kind) {
        const double w = 2.0 * std::numbers::pi * hz / kAnalysisRateHz, c = std::cos(w), alpha = std::sin(w) / (2.0 * q), a0 = 1.0 + alpha;
        if (kind == 0) return Biquad{(1 - c) / 2 / a0, (1 - c) / a0, (1 - c) / 2 / a0, -2 * c / a0, (1 - alpha) / a0};
        if (kind == 2) return Biquad{(1 + c) / 2 / a0, -(1 + c) / a0, (1 + c) / 2 / a0, -2 * c / a0, (1 - alpha) / a0};
        return Biquad{alpha / a0, 0.0, -alpha / a0, -2 * c / a0, (1 - alpha) / a0};
    };
    filters_ = {make(350.0, 0.7, 0), make(620.0, 0.8, 1), make(1700.0, 1.1, 1), make(2600.0, 0.7, 2)};
}

void FirstString::listen(std::span<const float> sound) noexcept {
    std::array<float, kStartBlocks> whole{};
    for (std::size_t band = 0; band < kStartBands; ++band) {
        const Biquad f = filters_[band];
        double x1 = 0.0, x2 = 0.0, y1 = 0.0, y2 = 0.0;
        std::array<float, kStartBlocks>& row = blocks_[band];
        row.fill(0.0F);
        for (std::size_t i = 0; i < sound.size(); ++i) {
            const double x = sound[i], y = f.b0 * x + f.b1 * x1 + f.b2 * x2 - f.a1 * y1 - f.a2 * y2;
            x2 = x1;
            x1 = x;
            y2 = y1;
            y1 = y;
            if (i >= kSettling) row[(i - kSettling) / kStartBlockFrames] += static_cast<float>(y * y);
        }
        for (std::size_t t = 0; t < kStartBlocks; ++t) whole[t] += row[t];
    }
    const float top = std::max(1e-12F, *std::max_element(whole.begin(), whole.end()));
    for (auto& row : blocks_)
        for (float& power : row) power = std::max(kLeastLog, std::log10(power / top + 1e-9F)) + kMiddleLog;
}

std::int64_t FirstString::find(std::span<const float> history, std::int64_t now, std::int64_t rise) noexcept {
    const std::int64_t from = rise - kBlocksBefore * kStartBlockFrames;
    const std::int64_t skipped = from - kSettling - (now - static_cast<std::int64_t>(history.size()));
    listen(history.subspan(static_cast<std::size_t>(skipped), kSettling + kStartBlocks * kStartBlockFrames));
    layer(blocks_, kFirstStringTable.weights1, kFirstStringTable.biases1, kStartReach1, 1, one_);
    layer(one_, kFirstStringTable.weights2, kFirstStringTable.biases2, kStartReach2, 2, two_);
    layer(two_, kFirstStringTable.weights3, kFirstStringTable.biases3, kStartReach3, 4, three_);
    int best = -1;
    for (std::size_t t = 0; t < kStartBlocks; ++t) {
        score_[t] = -kPerBlock * std::abs(static_cast<float>(t) - static_cast<float>(kBlocksBefore));
        for (std::size_t h = 0; h < kStartHidden; ++h) score_[t] += kFirstStringTable.weights4[h] * three_[h][t];
        const int block = static_cast<int>(t);
        if (block >= kFirst && block < kLast && (best < 0 || score_[t] > score_[static_cast<std::size_t>(best)]) && rises(blocks_, t)) best = block;
    }
    if (best < 0) return rise;
    // Between blocks: the middle of the chances next to the likeliest.
    double sum = 0.0, moment = 0.0;
    for (int t = best - 2; t <= best + 2; ++t) {
        const double chance = std::exp(static_cast<double>(score_[static_cast<std::size_t>(t)] - score_[static_cast<std::size_t>(best)]));
        sum += chance;
        moment += chance * t;
    }
    return from + static_cast<std::int64_t>((moment / sum) * kStartBlockFrames + 0.5);
}

}  // namespace gripline::dsp
