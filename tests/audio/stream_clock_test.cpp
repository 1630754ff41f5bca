// Frames to seconds, from stamps that jitter and streams that break off.
#include "audio/stream_clock.h"

#include <doctest/doctest.h>

#include <cmath>

#include "audio/accompaniment.h"
#include "audio/metronome.h"
#include "audio/noise.h"
#include "audio/strum.h"
#include "support/alloc_count.h"
#include "support/tone.h"

using namespace gripline;

TEST_CASE("Stamps that jitter by 5 ms give a line that is off by less than half a millisecond after four seconds, and follows a slow clock") {
    Noise noise(7);
    for (const double drift : {0.0, 1e-4, -1e-4}) {
        StreamClock clock(48000);
        double now_s = 1000.0;
        std::uint64_t frame = 0;
        for (int i = 0; i < 4000; ++i) {  // 21 s
            clock.take({frame, 0.0, now_s + 0.005 * static_cast<double>(noise.next())});
            if (i > 750) CHECK(std::abs(clock.second_of(static_cast<double>(frame)) - now_s) < 0.0008);
            frame += 256;
            now_s += 256.0 / 48000.0 * (1.0 + drift);
        }
        CHECK(clock.frame_at(clock.second_of(12345.0)) == doctest::Approx(12345.0));
    }
}

TEST_CASE("Stamps that wander by 2 ms over seconds, as a sound server's do, and start 6 ms wrong, give a line within 1.5 ms after five seconds, whatever the drift") {
    for (const double drift : {0.0, 2.2e-4, -1e-4}) {
        for (const double phase : {0.0, 1.0, 2.0, 3.0}) {
            StreamClock clock(48000);
            double now_s = 50.0, worst_s = 0.0;
            std::uint64_t frame = 0;
            for (int i = 0; i < 6000; ++i) {  // 32 s
                const double at_s = static_cast<double>(i) * 256.0 / 48000.0;
                const double wrong_s = 0.002 * std::sin(2.0 * at_s + phase) * std::cos(0.7 * at_s) - 0.006 * std::exp(-at_s / 0.5);
                clock.take({frame, 0.0, now_s + wrong_s});
                const double off_s = std::abs(clock.second_of(static_cast<double>(frame)) - now_s);
                if (at_s > 5.0) worst_s = std::max(worst_s, off_s);
                frame += 256;
                now_s += 256.0 / 48000.0 * (1.0 + drift);
            }
            CHECK(worst_s < 0.0015);
        }
    }
}

TEST_CASE("One stray stamp changes nothing; a stream that goes on 400 ms later is followed within a tenth of a second") {
    StreamClock clock(48000);
    CHECK_FALSE(clock.ready());
    for (std::uint64_t i = 0; i < 100; ++i) clock.take({256 * i, 0.0, 5.0 + static_cast<double>(256 * i) / 48000.0});
    CHECK(clock.ready());
    clock.take({256 * 100, 0.0, 9.0});
    CHECK(clock.second_of(0.0) == doctest::Approx(5.0));
    for (std::uint64_t i = 101; i < 140; ++i) clock.take({256 * i, 0.0, 5.4 + static_cast<double>(256 * i) / 48000.0});
    CHECK(clock.ready());
    CHECK(clock.second_of(0.0) == doctest::Approx(5.4));
    clock.take({256 * 140, 0.0, 0.0});  // the library knew no time
    CHECK(clock.second_of(0.0) == doctest::Approx(5.4));
}

TEST_CASE("A block of 256 frames that was lost is followed within half a second; calls that come late by 3 ms now and then move the line by less than a tenth") {
    StreamClock clock(48000);
    double now_s = 5.0;
    std::uint64_t frame = 0;
    const auto go = [&](int stamps) {
        for (int i = 0; i < stamps; ++i, frame += 256, now_s += 256.0 / 48000.0) clock.take({frame, 0.0, now_s + (frame / 256 % 25 == 0 ? 0.003 : 0.0)});
    };
    go(2000);
    CHECK(std::abs(clock.second_of(static_cast<double>(frame)) - now_s) < 0.0001);
    now_s += 256.0 / 48000.0;
    go(95);
    CHECK(std::abs(clock.second_of(static_cast<double>(frame)) - now_s) < 0.0005);
}

TEST_CASE("Clicks and strums begin at their frames however the sound is cut, and rendering allocates nothing") {
    const auto grip = Grip::parse("8x89xx", 6).value();
    auto strum = plan_strum(grip, Tuning()).value();
    strum.ring_s = 0.1;
    Accompaniment whole(48000), cut(48000);
    for (Accompaniment* each : {&whole, &cut}) {
        REQUIRE(each->strum(24000, strum));
        REQUIRE(each->click(4801, Click::alike));
        REQUIRE(each->click(9999, Click::accent));
    }
    std::vector<float> all(48000), pieces(48000);
    const test::AllocCount count;
    whole.process(all);
    for (std::size_t at = 0; at < pieces.size(); at += 77) cut.process(std::span(pieces).subspan(at, std::min<std::size_t>(77, pieces.size() - at)));
    CHECK(count.here() == 0);
    CHECK(all == pieces);
    const auto click = render_click(48000, false);
    CHECK(test::peak_db(std::span(all).first(4801)) < -150.0);
    for (std::size_t i = 0; i < click.size(); ++i) CHECK(all[4801 + i] == click[i]);
    CHECK(test::peak_db(std::span(all).subspan(9999, 960)) == doctest::Approx(-24.0).epsilon(0.01));
    CHECK(test::peak_db(std::span(all).subspan(11000, 13000)) < -150.0);
    CHECK(test::peak_db(std::span(all).subspan(24000, 4800)) > -32.0);
    CHECK(test::peak_db(std::span(all).subspan(24000, 4800)) < -18.0);
    whole.reset();
    CHECK(whole.position() == 0);
    whole.process(all);
    CHECK(test::peak_db(all) < -150.0);
}

TEST_CASE("An accented click is 6 dB louder than the weak ones beside it, in peak and in power, and no louder than a click among equals") {
    Accompaniment band(48000);
    REQUIRE(band.click(0, Click::weak));
    REQUIRE(band.click(4800, Click::accent));
    REQUIRE(band.click(9600, Click::alike));
    std::vector<float> sound(14400);
    band.process(sound);
    const auto peak = [&](std::size_t at) { return test::peak_db(std::span(sound).subspan(at, 960)); };
    const auto power_db = [&](std::size_t at) {
        double sum = 0.0;
        for (std::size_t i = at; i < at + 960; ++i) sum += static_cast<double>(sound[i]) * sound[i];
        return 10.0 * std::log10(sum);
    };
    CHECK(peak(4800) - peak(0) == doctest::Approx(6.0).epsilon(0.02));
    CHECK(power_db(4800) - power_db(0) == doctest::Approx(6.0).epsilon(0.05));
    CHECK(peak(4800) == doctest::Approx(peak(9600)).epsilon(0.001));
    CHECK(peak(4800) == doctest::Approx(kQuietPeak_db).epsilon(0.001));
}
