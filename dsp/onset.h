// Finds strums: the instant at which the first string sounds. A strum of 5 to 60 ms is one event; clicks and thumps that leave no
// ringing behind are none.
#pragma once

#include <array>
#include <complex>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "dsp/first_string.h"
#include "dsp/onset_model.h"
#include "dsp/real_fft.h"

namespace gripline::dsp {

struct OnsetConfig {
    float least_chance = 0.25F;       ///< of the models; of 15289 true starts they miss 0.2 % then, and take 4 % of the other candidates
    float least_rise = 0.015F;       ///< share of the sound 25 to 70 ms after that is new; of 4116 true starts, 1 % have less
    float least_rise_soon = 0.06F;   ///< the same within soon_s of the strum before: late strings of a slow strum bring less
    double soon_s = 0.30;            ///< from a start to its being looked at, 70 ms later
    double least_level_db = -92.0;   ///< RMS after the onset, below full scale
    float overrules = 2.5F;          ///< a start this much stronger than the one just before replaces it ...
    double shortest_gap_s = 0.08;    ///< ... within this: the slowest strums take 60 ms; ...
    float overrules_late = 1.3F;     ///< ... one this much stronger within likely_gap_s
    double likely_gap_s = 0.14;      ///< a sixteenth at 107, an eighth at 214 beats a minute. Of 9029 starts in walks 35 are missed so, 47 with 2.5 for both, and as many strays taken
    bool place_all = false;          ///< places the first sound of refused candidates too, which costs time; for fitting the models
};

/// Fed hop by hop at kAnalysisRateHz. An onset is reported about 75 ms after it happened.
class OnsetDetector {
public:
    static constexpr int kHopFrames = 64;      // 5.3 ms
    static constexpr int kFrame = 256;         // 21 ms
    static constexpr int kBins = 97;           // to 4.5 kHz
    static constexpr int kLookAhead = 13;      // hops awaited after a candidate: 69 ms

    explicit OnsetDetector(const OnsetConfig& config = {});
    /// `history`: the last samples up to now, oldest first, at least 2048; `now`: index of the sample after the last one.
    /// Returns the sample index of the first string's start when a strum is confirmed.
    std::optional<std::int64_t> process(std::span<const float> history, std::int64_t now) noexcept;
    void reset() noexcept;

    /// The candidate that the last call of `process` looked at, if it looked at one; for fitting the model.
    struct Candidate {
        std::int64_t first_sound = 0;  ///< sample index; of a refused one 0 unless OnsetConfig::place_all
        OnsetMeasures measures{};
        OnsetPicture picture{};
    };
    [[nodiscard]] const std::optional<Candidate>& candidate() const noexcept { return candidate_; }
    /// What found the candidate's first sound, with the blocks it saw.
    [[nodiscard]] const FirstString& first_string() const noexcept { return first_string_; }
    /// Sample index at which the newest hop of a candidate's frame begins, when it is looked at with `now` samples heard.
    [[nodiscard]] static constexpr std::int64_t rise_of_candidate(std::int64_t now) noexcept { return now - (kLookAhead + 1) * kHopFrames; }

private:
    struct Frame {
        std::array<float, kBins> root;  // square root of magnitude
        float flux = 0.0F;
        float power = 0.0F;
    };
    static constexpr std::size_t kKept = 64;
    [[nodiscard]] const Frame& frame(std::int64_t hop) const noexcept { return frames_[static_cast<std::size_t>(hop) % kKept]; }
    [[nodiscard]] bool is_candidate(std::int64_t hop) const noexcept;
    [[nodiscard]] double staying_share(std::int64_t hop) const noexcept;
    [[nodiscard]] OnsetMeasures measure(std::int64_t hop) const noexcept;
    [[nodiscard]] OnsetPicture picture(std::int64_t hop) const noexcept;
    [[nodiscard]] bool is_strum(const Candidate& candidate) const noexcept;

    OnsetConfig config_;
    FirstString first_string_;
    RealFft fft_{kFrame};
    std::array<float, kFrame> window_{};
    std::array<float, kFrame> buffer_{};
    std::array<std::complex<float>, kFrame / 2 + 1> spectrum_{};
    std::array<Frame, kKept> frames_{};
    std::int64_t hop_ = 0;
    std::int64_t last_onset_ = -1'000'000;
    std::optional<Candidate> candidate_;
    float last_flux_ = 0.0F;
    float flux_peak_ = 0.0F;   // decays over seconds
    float noise_power_ = 0.0F; // follows the quietest frames
};

}  // namespace gripline::dsp
