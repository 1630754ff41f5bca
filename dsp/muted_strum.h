// Finds muted strums: all strings struck under a hand that damps them. A burst over the whole spectrum, as long as the pick takes, and nothing rings on.
// A knock on the body sounds alike.
#pragma once

#include <array>
#include <complex>
#include <cstdint>
#include <limits>
#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "dsp/history.h"
#include "dsp/real_fft.h"
#include "dsp/resampler.h"
#include "dsp/rumble_filter.h"

namespace gripline::dsp {

/// 94 Hz to 4.2 kHz in bands of half an octave or a little less.
inline constexpr std::size_t kMutedBands = 12;

/// A muted strum, or another burst over much of the spectrum that began as suddenly: a plain block of numbers that crosses threads by copy.
struct MutedStrum {
    bool muted = true;                           ///< false: it rings on, or it is a click
    double at_s = 0.0;                           ///< stream time at which it began, within 10 ms or so
    double level_db = -120.0;                    ///< loudest 21 ms, RMS, dB below full scale
    std::array<float, kMutedBands> shape_db{};   ///< each band's peak against the loudest band's, -60 to 0
};

struct MutedStrumConfig {
    int rate_hz = 48000;            ///< of the input, 8000 to 192000
    double least_level_db = -70.0;  ///< RMS, below full scale
    double above_before_db = 9.0;   ///< each band's rise over the 30 ms before
    double above_noise_db = 10.0;   ///< and over the noise
    double below_top_db = 36.0;     ///< a band softer than the loudest by more tells nothing
    int least_bands = 5;            ///< of the 12 that rise: a strum over damped strings is a click of each string and the scrape of its winding
    double tells_db = 18.0;         ///< above the noise: how such a band dies away can be heard
    int least_telling = 4;          ///< bands
    double shortest_s = 0.018;      ///< half of the bands within 10 dB of their peaks; a click of less than 10 ms shows as 0.011 to 0.016
    double longest_s = 0.115;       ///< a strum takes up to 60 ms, a damped string 20 to lose 10 dB; 98 of 100 grips that ring take 0.133 or more (measured, 2026-11)
    double gone_db = 15.0;          ///< 0.15 s after the start half of the bands are so far below their peaks (a plucked string loses 2 to 8 dB in 0.1 s)
    double gone_most_db = 8.0;      ///< and three in four so far: a body or a room may ring on in some
};

/// Allocates in the constructor only. A muted strum is told about 0.2 s after it began.
class MutedStrumDetector {
public:
    static constexpr int kHopFrames = 64;  // 5.3 ms at kAnalysisRateHz
    static constexpr int kFrame = 256;     // 21 ms

    explicit MutedStrumDetector(const MutedStrumConfig& config = {});
    /// Mono frames, full scale = 1 (NaN and infinities are heard as 0). The result does not depend on how the frames are cut.
    void process(std::span<const float> frames) noexcept;
    /// Takes the oldest burst not yet taken, muted or not; false when there is none. At most 16 are kept; then the oldest gives way.
    bool take(MutedStrum& muted) noexcept;
    /// Whatever began before this instant (stream time) is decided: if it was a burst, it has been told.
    [[nodiscard]] double decided_s() const noexcept;
    void reset() noexcept;

    /// What the last hop was decided on, if it was one that ended a candidate; for measurements.
    struct Look {
        double at_s = 0.0;
        int telling = 0, risen = 0;     ///< bands that are loud enough to tell; that rose
        double long_s = 0.0;            ///< median over the bands
        double fall_db = 0.0, fall_most_db = 0.0;  ///< 0.15 s later: median, and the least of the best three quarters
        bool muted = false;
    };
    [[nodiscard]] const std::optional<Look>& look() const noexcept { return look_; }

private:
    using Bands = std::array<float, kMutedBands>;
    static constexpr std::size_t kKept = 64, kRoom = 16;
    [[nodiscard]] const Bands& power(std::int64_t hop) const noexcept { return power_[static_cast<std::size_t>(hop) % kKept]; }
    [[nodiscard]] float before(std::int64_t hop, std::size_t band) const noexcept;
    [[nodiscard]] double mean(std::size_t band, std::int64_t from, std::int64_t to) const noexcept;
    [[nodiscard]] int risen_at(std::int64_t hop) const noexcept;
    [[nodiscard]] bool rings_on(std::int64_t hop) const noexcept;
    void hop() noexcept;
    void follow(std::int64_t hop) noexcept;
    void decide() noexcept;
    void tell(const MutedStrum& muted) noexcept;

    MutedStrumConfig config_;
    RumbleFilter rumble_;
    Resampler resampler_;
    std::vector<float> made_;
    History history_{kFrame};
    RealFft fft_{kFrame};
    std::array<float, kFrame> window_{};
    std::array<float, kFrame> buffer_{};
    std::array<std::complex<float>, kFrame / 2 + 1> spectrum_{};
    std::array<Bands, kKept> power_{};
    Bands noise_{};
    std::int64_t hops_ = 0;
    // The candidate in hand.
    std::int64_t start_ = -1;  // hop; none: -1
    Bands peak_{}, before_{}, noise_then_{};
    std::array<MutedStrum, kRoom> told_{};
    std::size_t told_first_ = 0, told_count_ = 0;
    std::optional<Look> look_;
};

}  // namespace gripline::dsp
