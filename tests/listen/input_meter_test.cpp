// Warnings about the input, from made-up sound and levels.
#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <vector>

#include "listen/input_meter.h"

using namespace gripline;

namespace {

void pass(InputMeter& meter, double seconds, float value, std::uint64_t clipped = 0) {
    std::vector<float> frames(static_cast<std::size_t>(48000 * seconds), 0.0F);
    for (std::size_t i = 0; i < frames.size(); ++i) frames[i] = i % 2 == 0 ? value : -value;
    meter.process(frames, clipped);
}

}  // namespace

TEST_CASE("No signal at all: after two seconds within two steps of 16 bits, whatever the offset; gone with the first sound") {
    InputMeter meter(48000);
    pass(meter, 1.9, 0.0F);
    CHECK_FALSE(meter.silent());
    pass(meter, 0.2, 0.00005F);
    CHECK(meter.silent());
    meter.process(std::vector<float>(48000 * 3, 0.1F), 0);  // a constant offset is no signal
    pass(meter, 0.2, 0.001F);
    CHECK_FALSE(meter.silent());
    InputMeter offset(48000);
    offset.process(std::vector<float>(48000 * 3, 0.1F), 0);
    CHECK(offset.silent());
}

TEST_CASE("Room noise at -70 dB is a signal") {
    InputMeter meter(48000);
    pass(meter, 5.0, 0.0003F);
    CHECK_FALSE(meter.silent());
}

TEST_CASE("Clipping: three full-scale frames within a second, not one; forgotten after a second") {
    InputMeter meter(48000);
    pass(meter, 0.5, 0.5F, 2);
    CHECK_FALSE(meter.clipping());
    pass(meter, 0.1, 0.5F, 3);
    CHECK(meter.clipping());
    pass(meter, 1.2, 0.5F, 3);
    CHECK_FALSE(meter.clipping());
}

TEST_CASE("The peak is held for a second") {
    InputMeter meter(48000);
    CHECK(meter.peak_db() == -120.0);
    pass(meter, 0.01, 0.5F);
    CHECK(meter.peak_db() == doctest::Approx(-6.02).epsilon(0.001));
    pass(meter, 0.8, 0.001F);
    CHECK(meter.peak_db() == doctest::Approx(-6.02).epsilon(0.001));
    pass(meter, 0.4, 0.001F);
    CHECK(meter.peak_db() == doctest::Approx(-60.0).epsilon(0.001));
    meter.process(std::vector<float>(10, std::numeric_limits<float>::quiet_NaN()), 0);
    CHECK(meter.peak_db() == doctest::Approx(-60.0).epsilon(0.001));
}

TEST_CASE("Hum: loud, steady and most of what there is, for a second and a half; a low string that dies away is none") {
    const auto after = [](double seconds, double level_db, double hum_db, double fall_db_a_second) {
        InputMeter meter(48000);
        for (double t = 0.0; t < seconds; t += 0.05) {
            pass(meter, 0.05, 0.1F);
            meter.observe(level_db - fall_db_a_second * t, hum_db - fall_db_a_second * t);
        }
        return meter.hum();
    };
    CHECK(after(2.0, -40.0, -42.0, 0.0));
    CHECK_FALSE(after(1.0, -40.0, -42.0, 0.0));
    CHECK_FALSE(after(3.0, -60.0, -62.0, 0.0));
    CHECK_FALSE(after(3.0, -20.0, -42.0, 0.0));
    CHECK_FALSE(after(3.0, -20.0, -22.0, 10.0));
}
