// The grammar of the chain: cutting, reset, finish, allocation, bad samples, rates.
#include "dsp/strum_chain.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <random>

#include "dsp/strums.h"
#include "support/alloc_count.h"
#include "support/stiff_string.h"

using namespace gripline;
using namespace gripline::test;
using dsp::StrumChain;
using dsp::StrumEvidence;

namespace {

const std::vector<PlannedStrum> kFew{{.at_s = 0.5}, {.at_s = 1.1, .grip = "8x89xx", .ring_s = 0.25}, {.at_s = 1.6, .grip = "1x01xx"}, {.at_s = 2.2, .grip = "12-x-10-12-x-x"}};

bool finite(const StrumEvidence& e) {
    bool good = std::isfinite(e.onset_s) && std::isfinite(e.heard_s) && std::isfinite(e.level_db) && std::isfinite(e.noise_db) && std::isfinite(e.tuning_cents);
    for (const auto* spectrum : {&e.before, &e.attack, &e.body, &e.late})
        for (const float m : *spectrum) good = good && std::isfinite(m) && m >= 0.0F;
    return good;
}

}  // namespace

TEST_CASE("evidence is the same bit for bit however the frames are cut") {
    const auto take = play(kFew, 2.8);
    const auto whole = evidence_of(take, 48000, take.size());
    REQUIRE(onsets(whole).size() == 4);
    for (const std::size_t block : {1U, 7U, 64U, 256U, 1000U, 4096U}) {
        CAPTURE(block);
        CHECK(same(evidence_of(take, 48000, block), whole));
    }
    StrumChain chain({.rate_hz = 48000});
    std::mt19937 random(3);
    std::vector<StrumEvidence> pieces;
    StrumEvidence evidence;
    for (std::size_t i = 0; i < take.size();) {
        const std::size_t block = std::min<std::size_t>(random() % 3000, take.size() - i);  // 0 frames too
        chain.process(std::span(take).subspan(i, block));
        i += block;
        while (chain.take(evidence)) pieces.push_back(evidence);
    }
    chain.finish();
    while (chain.take(evidence)) pieces.push_back(evidence);
    CHECK(same(pieces, whole));
}

TEST_CASE("after reset a chain is as good as new") {
    const auto take = play(kFew, 2.8);
    StrumChain chain({.rate_hz = 48000});
    const auto first = evidence_of(chain, take);
    chain.reset();
    CHECK(chain.stream_s() == 0.0);
    CHECK(chain.level_db() == -120.0);
    CHECK(same(evidence_of(chain, take), first));
    chain.reset();
    chain.process(std::span(take).subspan(0, 27000));  // in the middle of the first strum
    chain.reset();
    CHECK(same(evidence_of(chain, take), first));
}

TEST_CASE("evidence of a strum comes in steps, later ones having heard more, the last one marked") {
    const auto evidence = evidence_of(play(kFew, 2.8));
    REQUIRE(!evidence.empty());
    CHECK(evidence.front().step == 0);
    CHECK(evidence.back().last);
    std::uint64_t strum = 1;
    for (std::size_t i = 0; i < evidence.size(); ++i) {
        const auto& e = evidence[i];
        CAPTURE(i);
        CHECK(e.strum == strum);
        CHECK(finite(e));
        CHECK(e.heard_s > e.onset_s);
        const double heard_s = e.heard_s - e.onset_s, frame_s = 1.0 / dsp::kAnalysisRateHz;
        CHECK(heard_s < dsp::kStepsS.back() + frame_s);  // a verdict is due by then
        // Every look comes at its very frame, not when the next hop of 5.3 ms ends; a damped strum alone ends between.
        if (!e.last) CHECK(std::any_of(dsp::kStepsS.begin(), dsp::kStepsS.end(), [&](double step_s) { return std::abs(heard_s - step_s) < frame_s; }));
        if (i > 0 && evidence[i - 1].strum == e.strum) {
            CHECK(e.step == evidence[i - 1].step + 1);
            CHECK(e.heard_s > evidence[i - 1].heard_s);
            CHECK(e.onset_s == evidence[i - 1].onset_s);
        }
        if (e.last) ++strum;
    }
    CHECK(strum == 5);
}

TEST_CASE("no allocation after construction, whatever is heard") {
    const auto take = play(kFew, 2.8);
    std::vector<float> bad(4800, std::numeric_limits<float>::quiet_NaN());
    StrumChain chain({.rate_hz = 48000});
    const auto evidence = std::make_unique<StrumEvidence>();
    AllocCount count;
    for (std::size_t i = 0; i < take.size(); i += 128) {
        chain.process(std::span(take).subspan(i, std::min<std::size_t>(128, take.size() - i)));
        while (i % 1024 == 0 && chain.take(*evidence)) {}
        (void)chain.level_db();
        if (i % 9600 == 0) (void)chain.hum_db();
    }
    chain.process(bad);
    chain.finish();
    chain.reset();
    chain.process(take);
    const auto allocations = count.here();
    CHECK(allocations == 0);
}

TEST_CASE("samples that are no numbers are heard as silence: the strum after them is found where it is") {
    const auto clean = play({{.at_s = 1.0}}, 1.8);
    const auto truth = evidence_of(clean);
    REQUIRE(onsets(truth).size() == 1);
    for (const float bad : {std::numeric_limits<float>::quiet_NaN(), std::numeric_limits<float>::infinity(), -std::numeric_limits<float>::infinity()}) {
        auto take = clean;
        for (std::size_t i = 4800; i < 9600; ++i) take[i] = bad;
        take[60000] = bad;  // one in the middle of the strum
        const auto evidence = evidence_of(take);
        REQUIRE(onsets(evidence).size() == 1);
        CHECK(std::abs(onsets(evidence).front() - onsets(truth).front()) < 0.002);
        for (const auto& e : evidence) CHECK(finite(e));
    }
}

TEST_CASE("absurdly large samples do no lasting harm") {
    auto take = play({{.at_s = 1.5}}, 2.3);
    for (std::size_t i = 4800; i < 4900; ++i) take[i] = i % 2 == 0 ? 3e38F : -3e38F;
    for (const auto& e : evidence_of(take)) CHECK(finite(e));
    // A burst of a hundred times full scale, as a broken driver gives: within 1.4 s all is well again.
    for (std::size_t i = 4800; i < 4900; ++i) take[i] = i % 2 == 0 ? 100.0F : -100.0F;
    const auto found = onsets(evidence_of(take));
    REQUIRE(!found.empty());
    CHECK(std::abs(found.back() - 1.5) < 0.01);
}

TEST_CASE("a constant offset changes no onset") {
    auto take = play(kFew, 2.8);
    const auto truth = onsets(evidence_of(take));
    for (float& frame : take) frame += 0.3F;
    auto found = onsets(evidence_of(take));
    REQUIRE(found.size() == truth.size());  // nor does the step at the start of the stream count as a strum
    for (std::size_t i = 0; i < truth.size(); ++i) CHECK(std::abs(found[i] - truth[i]) < 0.003);
}

TEST_CASE("a strum clipped at a third of its peak is one strum at its place") {
    auto take = play({{.at_s = 0.6}, {.at_s = 1.4}}, 2.0);
    float peak = 0.0F;
    for (const float frame : take) peak = std::max(peak, std::abs(frame));
    for (float& frame : take) frame = std::clamp(frame / peak * 3.0F, -1.0F, 1.0F);
    const auto found = onsets(evidence_of(take));
    REQUIRE(found.size() == 2);
    CHECK(std::abs(found[0] - 0.6) < 0.01);
    CHECK(std::abs(found[1] - 1.4) < 0.01);
}

TEST_CASE("room noise that begins after digital silence, as when an input is opened, is no strum; the strum after it is") {
    for (const double noise_rms : {3e-5, 1.7e-4, 1e-3}) {
        for (const double opened_s : {0.4, 0.7, 1.0}) {
            CAPTURE(noise_rms);
            CAPTURE(opened_s);
            auto take = play({{.at_s = 1.3}}, 2.2, 48000, noise_rms);
            std::fill_n(take.begin(), static_cast<std::ptrdiff_t>(opened_s * 48000), 0.0F);
            const auto found = onsets(evidence_of(take));
            REQUIRE(found.size() == 1);
            CHECK(std::abs(found[0] - 1.3) < 0.01);
        }
    }
}

TEST_CASE("silence, noise, steady hum and a steady tone hold no strum") {
    const std::vector<float> silence(96000, 0.0F);
    CHECK(evidence_of(silence).empty());
    auto noise = silence;
    add_noise(0.01, 5, noise);
    CHECK(onsets(evidence_of(noise)).empty());
    auto hum = silence;
    add_hum(50.0, 0.05, 48000, hum);
    CHECK(onsets(evidence_of(hum)).size() <= 1);  // its beginning may count
    StrumChain chain({.rate_hz = 48000});
    chain.process(silence);
    CHECK(chain.level_db() == -120.0);
    CHECK(chain.hum_db() == -120.0);
    CHECK(std::abs(chain.stream_s() - 2.0) < 1e-9);
}

TEST_CASE("level and hum are measured against full scale") {
    StrumChain chain({.rate_hz = 48000});
    std::vector<float> tone(48000);
    for (std::size_t i = 0; i < tone.size(); ++i) tone[i] = static_cast<float>(0.1 * std::sin(2.0 * std::numbers::pi * 440.0 * static_cast<double>(i) / 48000.0));
    chain.process(tone);
    CHECK(std::abs(chain.level_db() + 23.01) < 0.1);  // -20 dB peak, 3.01 dB less RMS
    CHECK(chain.hum_db() < -60.0);
    for (const double mains_hz : {50.0, 60.0}) {
        chain.reset();
        for (std::size_t i = 0; i < tone.size(); ++i) tone[i] = static_cast<float>(0.1 * std::sin(2.0 * std::numbers::pi * mains_hz * static_cast<double>(i) / 48000.0));
        chain.process(tone);
        CHECK(std::abs(chain.hum_db() + 23.01) < 1.5);  // the rumble filter takes 1 dB at 50 Hz
    }
}

TEST_CASE("finish settles the strum that the sound ends in, and adds no time") {
    const auto take = play({{.at_s = 0.5}}, 0.62);  // ends 120 ms into the strum
    StrumChain chain({.rate_hz = 48000});
    const auto evidence = evidence_of(chain, take);
    REQUIRE(onsets(evidence).size() == 1);
    CHECK(std::abs(onsets(evidence).front() - 0.5) < 0.01);
    CHECK(std::abs(chain.stream_s() - 0.62) < 1e-9);
    StrumChain empty({.rate_hz = 48000});
    empty.finish();
    CHECK(empty.stream_s() == 0.0);
    StrumEvidence none;
    CHECK(!empty.take(none));
}

TEST_CASE("evidence that nobody takes gives way, oldest first, and the newest stays") {
    std::vector<PlannedStrum> many;
    for (int i = 0; i < 20; ++i) many.push_back({.at_s = 0.5 + 0.4 * i});
    const auto take = play(many, 9.0);
    StrumChain chain({.rate_hz = 48000});
    chain.process(take);
    chain.finish();
    std::vector<StrumEvidence> left;
    StrumEvidence evidence;
    while (chain.take(evidence)) left.push_back(evidence);
    REQUIRE(!left.empty());
    CHECK(left.size() <= 64);
    CHECK(left.back().strum == 20);
    for (std::size_t i = 1; i < left.size(); ++i) CHECK(left[i].heard_s > left[i - 1].heard_s);
}
