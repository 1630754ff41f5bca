// The guitar's tuning from strums: arithmetic on cents, which an equal-tempered semitone has 100 of (Ellis 1885).
#include "practice/guitar_tuning.h"

#include <doctest/doctest.h>

#include <cmath>
#include <initializer_list>
#include <limits>

using namespace gripline;

namespace {

std::optional<double> after(std::initializer_list<double> strums) {
    GuitarTuning tuning;
    for (const double cents : strums) tuning.take(cents);
    return tuning.too_far_out_cents();
}

}  // namespace

TEST_CASE("Three strums that agree on more than 40 cents say so, by their median") {
    CHECK(after({-43, -47, -42}).value() == doctest::Approx(-43.0));
    CHECK(after({44, 41, 49}).value() == doctest::Approx(44.0));
    CHECK(after({3, -2, 43, 44, 42}).value() == doctest::Approx(43.0));
    CHECK(out_of_tune_words(-43.2) == "The guitar is 43 cents flat: tune before going on");
    CHECK(out_of_tune_words(45.0) == "The guitar is 45 cents sharp: tune before going on");
}

TEST_CASE("Fewer than three, 40 cents and less, strums that differ, or a last one in tune say nothing") {
    CHECK_FALSE(after({}));
    CHECK_FALSE(after({-43, -43}));
    CHECK_FALSE(after({-40, -40, -40}));
    CHECK_FALSE(after({30, 30, 30}));
    CHECK_FALSE(after({45, 20, 45}));
    CHECK_FALSE(after({-43, -43, -43, -3}));
    CHECK_FALSE(after({-43, -43, -39}));
    CHECK_FALSE(after({0, 43, 2}));
}

TEST_CASE("A guitar half a semitone out reads now sharp, now flat, and is told all the same") {
    CHECK(std::abs(after({49, -49, 48}).value()) > 48.0);
    CHECK(after({-49, 49, -47}).value() == doctest::Approx(-49.0));
    CHECK(after({57, 57, 57}).value() == doctest::Approx(-43.0));  // the next semitone is nearer
}

TEST_CASE("What is no number is left out; forgetting begins anew") {
    GuitarTuning tuning;
    for (const double cents : {-43.0, std::numeric_limits<double>::quiet_NaN(), -43.0, std::numeric_limits<double>::infinity()}) tuning.take(cents);
    CHECK_FALSE(tuning.too_far_out_cents());
    tuning.take(-43.0);
    CHECK(tuning.too_far_out_cents().has_value());
    tuning.forget();
    tuning.take(-43.0);
    CHECK_FALSE(tuning.too_far_out_cents());
}

TEST_CASE("A strum without a peak tells no tuning; another concert pitch shifts what a strum tells, up to whole semitones") {
    CHECK_FALSE(strum_tuning_cents(dsp::StrumEvidence{}));
    CHECK(against_concert_pitch(-7.0, 440.0) == doctest::Approx(-7.0));
    // 1200 log2(415 / 440) = -101.27: a guitar tuned to A4 = 415 Hz reads 1.27 cents flat at 440.
    CHECK(against_concert_pitch(-1.27, 415.0) == doctest::Approx(0.0).epsilon(0.01));
    CHECK(against_concert_pitch(45.0, 466.0) == doctest::Approx(45.0 - 1200.0 * std::log2(466.0 / 440.0) + 100.0));
}
