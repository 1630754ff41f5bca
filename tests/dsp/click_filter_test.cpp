// The tool's own clicks in the microphone: the filter that takes them away, and strums among them.
#include "dsp/click_filter.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "audio/metronome.h"
#include "dsp/resampler.h"
#include "dsp/strums.h"
#include "support/alloc_count.h"
#include "support/click_room.h"

using namespace gripline;
using namespace gripline::test;

namespace {

/// Level of a tone behind the filter, dB against before.
double level_db(double hz) {
    dsp::ClickFilter filter;
    double sum = 0.0;
    constexpr int kFrames = dsp::kAnalysisRateHz;
    for (int i = 0; i < 2 * kFrames; ++i) {
        const double y = filter.push(std::sin(2.0 * std::numbers::pi * hz * i / dsp::kAnalysisRateHz));
        if (i >= kFrames) sum += y * y;
    }
    return 10.0 * std::log10(std::max(1e-12, 2.0 * sum / kFrames));
}

/// A walk of 16 beats at 100 a minute, struck up to 45 ms after its clicks, every fourth beat left out.
std::vector<PlannedStrum> walk() {
    constexpr double kOff_s[] = {0.045, -0.020, 0.045, 0.004, 0.045, -0.008};
    constexpr const char* kGrips[] = {"8x89xx", "1x01xx", "3x23xx", "6x55xx"};
    std::vector<PlannedStrum> out;
    for (int beat = 0; beat < 16; ++beat)
        if (beat % 4 != 3) out.push_back({.at_s = 0.6 + 0.6 * beat + kOff_s[beat % 6], .grip = kGrips[beat % 4], .ring_s = 0.45});
    return out;
}

/// The clicks of those beats, 12 dB louder than the strums, through a room.
void add_clicks(std::vector<float>& sound, std::uint32_t seed) {
    float peak = 0.0F;
    for (const float x : sound) peak = std::max(peak, std::fabs(x));
    const ClickRoom room({.seed = seed});
    const auto click = room.arrive(render_click(48000, false)), accent = room.arrive(render_click(48000, true));
    for (int beat = 0; beat < 16; ++beat) add_at(beat % 2 == 0 ? click : accent, (0.6 + 0.6 * beat) * 48000 + 0.37, 4.0 * peak, sound);
}

std::vector<double> onsets_among_clicks(const std::vector<float>& sound, bool left_out) {
    dsp::StrumChain chain({.rate_hz = 48000});
    chain.leave_out_clicks(left_out);
    return onsets(evidence_of(chain, sound));
}

double worst_apart(const std::vector<double>& a, const std::vector<double>& b) {
    if (a.size() != b.size()) return 9.0;
    double worst = 0.0;
    for (std::size_t i = 0; i < a.size(); ++i) worst = std::max(worst, std::abs(a[i] - b[i]));
    return worst;
}

}  // namespace

TEST_CASE("the click filter lets all through that the listener looks at, and nothing of the metronome's clicks") {
    for (double hz = 60.0; hz <= 4450.0; hz *= std::exp2(1.0 / 12.0)) {
        CAPTURE(hz);
        CHECK(std::abs(level_db(hz)) < 0.31);
    }
    for (double hz = 4900.0; hz < 6000.0; hz += 50.0) {
        CAPTURE(hz);
        CHECK(level_db(hz) < -49.9);
    }
}

TEST_CASE("a click passes the filter 45 dB weaker, and a sample that is no number leaves nothing behind") {
    for (const bool accent : {false, true}) {
        dsp::ClickFilter filter;
        double before = 0.0, after = 0.0;
        (void)filter.push(std::numeric_limits<double>::infinity());
        (void)filter.push(std::numeric_limits<double>::quiet_NaN());
        auto click = render_click(48000, accent);
        dsp::Resampler resampler({.from_hz = 48000, .to_hz = dsp::kAnalysisRateHz});
        std::vector<float> made(resampler.max_out());
        click.resize(4800, 0.0F);
        for (const float x : click)
            for (std::size_t i = 0, count = resampler.push(x, made); i < count; ++i) {
                const double y = filter.push(made[i]);
                before += static_cast<double>(made[i]) * made[i];
                after += y * y;
            }
        CHECK(10.0 * std::log10(after / before) < -45.0);
    }
}

TEST_CASE("among the tool's own clicks, louder than the strums, strums are found where they are without clicks") {
    const auto dry = play(walk(), 10.6, 48000, 3e-4);
    const auto wanted = onsets_among_clicks(dry, false);
    REQUIRE(wanted.size() == walk().size());
    CHECK(worst_apart(onsets_among_clicks(dry, true), wanted) < 0.0005);
    for (const std::uint32_t seed : {1U, 2U, 3U}) {
        CAPTURE(seed);
        auto sound = dry;
        add_clicks(sound, seed);
        CHECK(worst_apart(onsets_among_clicks(sound, true), wanted) < 0.0005);
        CHECK(worst_apart(onsets_among_clicks(sound, false), wanted) > 0.001);
    }
}

TEST_CASE("the tool's own clicks alone are no strums, and leaving them out allocates nothing") {
    std::vector<float> sound(48000 * 11, 0.0F);
    for (std::size_t i = 0; i < sound.size(); ++i) sound[i] = 0.1F * std::sin(0.001F * static_cast<float>(i));  // so that they have a peak to go by
    add_clicks(sound, 4);
    dsp::StrumChain chain({.rate_hz = 48000});
    AllocCount count;
    chain.leave_out_clicks(true);
    chain.process(sound);
    const auto allocations = count.here();
    CHECK(allocations == 0);
    dsp::StrumEvidence evidence;
    CHECK_FALSE(chain.take(evidence));
}
