// Pitch against an independent program's: Debian's libaubio 0.4.9, its yinfast (de Cheveigne & Kawahara 2002; its yinfft strays by up to 10 cents on low pure tones). It measures the period of the whole sound. On strings
// without stiffness that is the first partial; on stiff ones the higher partials, which are sharp, pull it up (by 10 cents at B = 1e-4), so there the sound
// is limited to the first partial before libaubio hears it.
#include <aubio/aubio.h>
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "audio/plucked_string.h"
#include "dsp/pitch.h"
#include "support/first_partial.h"
#include "support/stiff_string.h"
#include "support/tone.h"

using namespace gripline;
using namespace gripline::test;

namespace {

constexpr int kRate_hz = 44100;
constexpr uint_t kWindow = 4096, kHop = 512;

double median(std::vector<double> values) {
    REQUIRE(!values.empty());
    std::nth_element(values.begin(), values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2), values.end());
    return values[values.size() / 2];
}

double peer_hz(const std::vector<float>& frames) {
    aubio_pitch_t* pitch = new_aubio_pitch("yinfast", kWindow, kHop, kRate_hz);
    REQUIRE(pitch != nullptr);
    fvec_t* in = new_fvec(kHop);
    fvec_t* out = new_fvec(1);
    std::vector<double> found;
    for (std::size_t i = 0; i + kHop <= frames.size(); i += kHop) {
        std::copy_n(frames.begin() + static_cast<std::ptrdiff_t>(i), kHop, in->data);
        aubio_pitch_do(pitch, in, out);
        if (i > 2 * kWindow && out->data[0] > 30.0F) found.push_back(static_cast<double>(out->data[0]));
    }
    del_fvec(in);
    del_fvec(out);
    del_aubio_pitch(pitch);
    return median(found);
}

double our_hz(const std::vector<float>& frames) {
    dsp::PitchEstimator estimator({.rate_hz = kRate_hz});
    estimator.process(frames);
    std::vector<double> found;
    dsp::PitchReading reading;
    while (estimator.take(reading))
        if (reading.at_s > 0.4 && reading.hz > 0.0) found.push_back(reading.hz);
    return median(found);
}

}  // namespace

TEST_CASE("plucked strings without stiffness: within 2 cents of libaubio's pitch") {
    double worst = 0.0;
    for (int midi = 40; midi <= 76; ++midi) {
        CAPTURE(midi);
        PluckedString string({.rate_hz = kRate_hz});
        string.pluck(440.0 * std::exp2((midi - 69) / 12.0 + 0.013), 0.2, 0.5, static_cast<std::uint32_t>(midi));
        std::vector<float> frames(static_cast<std::size_t>(1.2 * kRate_hz), 0.0F);
        string.process(frames);
        const double apart = std::abs(cents(our_hz(frames), peer_hz(frames)));
        CHECK(apart < 2.0);
        worst = std::max(worst, apart);
    }
    MESSAGE("plucked strings: largest distance to libaubio " << worst << " cents");
}

TEST_CASE("stiff strings: the first partial within 2 cents of libaubio's pitch of it") {
    double worst = 0.0;
    for (const int midi : {40, 43, 45, 48, 50, 53, 55, 59, 62, 64, 69, 76}) {
        for (const double stiffness : {2e-5, 1e-4, 3e-4}) {
            CAPTURE(midi);
            CAPTURE(stiffness);
            std::vector<float> frames(static_cast<std::size_t>(1.2 * kRate_hz), 0.0F);
            const StiffString string{.f0_hz = 440.0 * std::exp2((midi - 69) / 12.0), .stiffness = stiffness, .decay_s = 4.0, .seed = static_cast<std::uint32_t>(midi)};
            add_string(string, kRate_hz, frames);
            const double apart = std::abs(cents(our_hz(frames), peer_hz(below(frames, 1.1 * string.f0_hz, kRate_hz))));
            CHECK(apart < 2.0);
            worst = std::max(worst, apart);
        }
    }
    MESSAGE("stiff strings: largest distance to libaubio " << worst << " cents");
}
