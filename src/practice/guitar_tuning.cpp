#include "practice/guitar_tuning.h"

#include <algorithm>
#include <cmath>

#include "dsp/tuning_estimate.h"
#include "practice/tuner.h"

namespace gripline {
namespace {

/// Up to whole semitones, the distance nearest to none.
double within_semitone(double cents) noexcept { return cents - 100.0 * std::round(cents / 100.0); }

}  // namespace

void GuitarTuning::take(double cents) noexcept {
    if (std::isfinite(cents)) last_[count_++ % kStrums] = within_semitone(cents);
}

std::optional<double> GuitarTuning::too_far_out_cents() const noexcept {
    if (count_ < kStrums) return std::nullopt;
    // 49 cents sharp and 49 flat lie 2 cents apart: all are told as seen from the last strum.
    const double newest = last_[(count_ - 1) % kStrums];
    std::array<double, kStrums> from_newest{};
    for (std::size_t i = 0; i < kStrums; ++i) from_newest[i] = within_semitone(last_[i] - newest);
    std::sort(from_newest.begin(), from_newest.end());
    if (from_newest.back() - from_newest.front() > kStrumsAgree_cents) return std::nullopt;
    const double median = within_semitone(newest + from_newest[kStrums / 2]);
    if (std::min(std::abs(newest), std::abs(median)) <= kTooFarOut_cents) return std::nullopt;
    return median;
}

std::optional<double> strum_tuning_cents(const dsp::StrumEvidence& evidence) noexcept {
    const dsp::TuningVotes votes = dsp::tuning_votes(evidence.body);
    if (votes.cos_sum == 0.0 && votes.sin_sum == 0.0) return std::nullopt;
    return votes.cents();
}

double against_concert_pitch(double cents, double a4_hz) noexcept { return within_semitone(cents - 1200.0 * std::log2(a4_hz / 440.0)); }

std::string out_of_tune_words(double cents) { return "The guitar is " + cents_words(cents) + ": tune before going on"; }

}  // namespace gripline
