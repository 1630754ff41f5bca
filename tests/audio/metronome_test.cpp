// Clicks: in time, quiet, and out of the listener's way.
#include <doctest/doctest.h>

#include <cmath>

#include "audio/metronome.h"
#include "support/alloc_count.h"
#include "support/tone.h"

using namespace gripline;

TEST_CASE("Beat n begins at n * 60 / bpm seconds, to the frame, however the frames are cut; after an hour too") {
    const MetronomeConfig config{.rate_hz = 48000, .beats_per_minute = 133.0};
    Metronome whole(config), cut(config);
    std::vector<float> all(96000, 0.0F), pieces(96000, 0.0F);
    whole.process(all);
    for (std::size_t at = 0; at < pieces.size(); at += 77) cut.process(std::span(pieces).subspan(at, std::min<std::size_t>(77, pieces.size() - at)));
    CHECK(all == pieces);
    for (int beat = 1; beat < 4; ++beat) {
        const auto frame = static_cast<std::size_t>(std::lround(beat * 60.0 / 133.0 * 48000.0));
        CHECK(test::peak_db(std::span(all).subspan(frame - 500, 500)) < -150.0);
        CHECK(test::peak_db(std::span(all).subspan(frame, 480)) == doctest::Approx(-24.0 - kAccent_db).epsilon(0.01));
    }
    CHECK(test::peak_db(std::span(all).first(480)) == doctest::Approx(-24.0).epsilon(0.01));  // accented
    CHECK(whole.beat_frame(133 * 60) == 48000ULL * 3600ULL);
}

TEST_CASE("A click peaks at -24 dB and has next to nothing below 4.2 kHz, where the listener looks") {
    for (const int rate_hz : {44100, 48000, 96000})
        for (const bool accent : {false, true}) {
            const auto click = render_click(rate_hz, accent);
            CHECK(test::peak_db(click) == doctest::Approx(-24.0).epsilon(0.001));
            double below = 0.0, above = 0.0;
            for (double f = 50.0; f < 8000.0; f += 50.0) {
                double re = 0.0, im = 0.0;  // no window: the click's own edges are what matters
                for (std::size_t i = 0; i < click.size(); ++i) {
                    re += click[i] * std::cos(2.0 * std::numbers::pi * f * static_cast<double>(i) / rate_hz);
                    im += click[i] * std::sin(2.0 * std::numbers::pi * f * static_cast<double>(i) / rate_hz);
                }
                (f <= 4200.0 ? below : above) += re * re + im * im;
            }
            CHECK(10.0 * std::log10(below / above) < -40.0);
        }
}

TEST_CASE("Absurd tempos are moved into 20 to 400, and clicking allocates nothing") {
    CHECK(Metronome({.rate_hz = 48000, .beats_per_minute = 0.0}).beat_frame(1) == 144000);
    CHECK(Metronome({.rate_hz = 48000, .beats_per_minute = 1e9}).beat_frame(1) == 7200);
    Metronome metronome;
    std::vector<float> frames(48000, 0.0F);
    const test::AllocCount count;
    metronome.process(frames);
    metronome.reset();
    CHECK(count.here() == 0);
}
