// The tones that tell right from wrong.
#include "audio/answer_tone.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "support/tone.h"

using namespace gripline;

namespace {

/// Power at one frequency.
double power_at(const std::vector<float>& frames, double f_hz, int rate_hz) {
    double re = 0.0, im = 0.0;
    for (std::size_t i = 0; i < frames.size(); ++i) {
        const double phase = 2.0 * std::numbers::pi * f_hz * static_cast<double>(i) / rate_hz;
        re += frames[i] * std::cos(phase);
        im += frames[i] * std::sin(phase);
    }
    return re * re + im * im;
}

}  // namespace

TEST_CASE("Right and wrong sound two octaves apart (ISO 16: A4 is 440 Hz), at most -30 dB, and begin and end in silence") {
    for (const int rate_hz : {44100, 48000, 96000}) {
        for (const bool right : {true, false}) {
            const auto tone = render_answer_tone(rate_hz, right);
            CHECK(static_cast<double>(tone.size()) / rate_hz == doctest::Approx(kAnswerTone_s).epsilon(0.001));
            CHECK(test::peak_db(tone) <= -30.0);
            CHECK(test::peak_db(tone) > -31.0);
            CHECK(std::abs(tone.front()) < 1e-4F);
            CHECK(std::abs(tone.back()) < 1e-4F);
            CHECK(power_at(tone, right ? 880.0 : 220.0, rate_hz) > 1000.0 * power_at(tone, right ? 220.0 : 880.0, rate_hz));
        }
    }
}
