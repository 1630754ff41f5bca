// The whole guitar's tuning from synthetic stiff strings (Fletcher 1964) whose detuning is known by construction.
#include "dsp/tuning_estimate.h"

#include <doctest/doctest.h>

#include <cmath>
#include <memory>

#include "dsp/spectrum_maker.h"
#include "support/stiff_string.h"

using namespace gripline::dsp;
using gripline::test::StiffString;

namespace {

/// Votes of notes (MIDI numbers) that stand `cents` beside equal temperament on A4 = 440 Hz.
TuningVotes votes_of(std::initializer_list<int> notes, double cents, double stiffness, double noise_rms = 0.0) {
    std::vector<float> frames(6000, 0.0F);
    std::uint32_t seed = 1;
    for (const int note : notes) {
        const double f1 = 440.0 * std::exp2((note - 69) / 12.0 + cents / 1200.0);
        gripline::test::add_string({.f0_hz = f1 / std::sqrt(1.0 + stiffness), .stiffness = stiffness, .seed = seed++}, kAnalysisRateHz, frames);
    }
    if (noise_rms > 0.0) gripline::test::add_noise(noise_rms, 9, frames);
    History history(8192);
    for (const float frame : frames) history.push(frame);
    const auto spectrum = std::make_unique<Spectrum>();
    SpectrumMaker().make(history, 1000, 5000, *spectrum);
    return tuning_votes(*spectrum);
}

/// Distance on the circle of one semitone.
double apart(double a, double b) { return std::abs(std::remainder(a - b, 100.0)); }

}  // namespace

TEST_CASE("a detuned guitar is measured to 4 cents over the whole circle, for shells on the neck") {
    for (const auto& grip : {std::initializer_list<int>{43, 52, 58}, {48, 58, 64}, {41, 50, 56}, {45, 55, 60, 64}}) {
        for (double cents = -49.0; cents <= 49.0; cents += 7.0) {
            for (const double stiffness : {1e-5, 8e-5, 3e-4}) {
                CAPTURE(cents);
                CAPTURE(stiffness);
                CHECK(apart(votes_of(grip, cents, stiffness).cents(), cents) < 4.0 + 1e4 * stiffness);
            }
        }
    }
}

TEST_CASE("noise 30 dB down moves the reading by no more than 4 cents") {
    for (const double cents : {-30.0, 0.0, 20.0}) CHECK(apart(votes_of({43, 52, 58}, cents, 8e-5, 0.005).cents(), cents) < 5.0);
}

TEST_CASE("votes add up; none at all reads 0") {
    CHECK(TuningVotes{}.cents() == 0.0);
    TuningVotes sum;
    sum.add(votes_of({43, 52, 58}, 10.0, 8e-5), 1.0);
    sum.add(votes_of({48, 58, 64}, 20.0, 8e-5), 1.0);
    CHECK(sum.cents() > 8.0);
    CHECK(sum.cents() < 22.0);
    const auto silent = std::make_unique<Spectrum>();
    CHECK(tuning_votes(*silent).cents() == 0.0);
}
