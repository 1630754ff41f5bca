// Finds the instant at which a strum's first string sounds, near a rise that was found already: a small fitted model over the
// powers of short blocks, so that a metronome's click just before, or what still rings, isn't taken for the string.
#pragma once

#include <array>
#include <cstdint>
#include <span>

namespace gripline::dsp {

inline constexpr int kStartBands = 4;     ///< below 350 Hz, to 1.1 kHz, to 2.6 kHz, above
inline constexpr int kStartBlocks = 112;  ///< of kStartBlockFrames: 149 ms
inline constexpr int kStartHidden = 12;
inline constexpr int kStartReach1 = 5;    ///< blocks that the first layer sees at once; its steps are 1 block wide,
inline constexpr int kStartReach2 = 7;    ///< the second's 2,
inline constexpr int kStartReach3 = 7;    ///< the third's 4

/// Three convolutions over time, then one number a block. Weights: outputs x inputs x reach.
struct FirstStringTable {
    std::array<float, kStartHidden * kStartBands * kStartReach1> weights1;
    std::array<float, kStartHidden> biases1;
    std::array<float, kStartHidden * kStartHidden * kStartReach2> weights2;
    std::array<float, kStartHidden> biases2;
    std::array<float, kStartHidden * kStartHidden * kStartReach3> weights3;
    std::array<float, kStartHidden> biases3;
    std::array<float, kStartHidden> weights4;
};
extern const FirstStringTable kFirstStringTable;

/// Allocates nothing.
class FirstString {
public:
    static constexpr int kStartBlockFrames = 16;  ///< 1.3 ms at kAnalysisRateHz
    static constexpr int kBlocksBefore = 64;      ///< of the window, before the rise
    static constexpr int kFramesAfter = (kStartBlocks - kBlocksBefore) * kStartBlockFrames;  ///< that must be heard after the rise
    using Blocks = std::array<std::array<float, kStartBlocks>, kStartBands>;

    FirstString() noexcept;
    /// `history`: the last samples up to `now` (index of the sample after them), at least 2048 before `rise`, a sample index at most now - kFramesAfter.
    /// Returns the sample index of the first string's start.
    std::int64_t find(std::span<const float> history, std::int64_t now, std::int64_t rise) noexcept;
    /// What the last `find` saw: log10 of the blocks' powers against the strongest block's whole power, -6 to 0, plus 3.
    [[nodiscard]] const Blocks& blocks() const noexcept { return blocks_; }

private:
    struct Biquad {
        double b0, b1, b2, a1, a2;
    };
    void listen(std::span<const float> sound) noexcept;

    std::array<Biquad, kStartBands> filters_;
    Blocks blocks_{};
    using Layer = std::array<std::array<float, kStartBlocks>, kStartHidden>;
    Layer one_{}, two_{}, three_{};
    std::array<float, kStartBlocks> score_{};
};

}  // namespace gripline::dsp
