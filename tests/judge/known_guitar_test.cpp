// What a set-up tells the judge: where each note lies, and that a string out of tune is judged as well as one in tune.
#include "judge/known_guitar.h"

#include <doctest/doctest.h>

#include <cmath>

#include "dsp/strum_chain.h"
#include "judge/judge.h"
#include "support/stiff_string.h"

using namespace gripline;
using namespace gripline::test;

namespace {

/// Standard tuning, every string at these cents (lowest first), 4 sharper at the seventh fret.
KnownGuitar guitar(const std::vector<double>& cents) {
    KnownGuitar out;
    for (const double c : cents) out.strings.push_back({{c, 1e-4}, {c + 4.0, 4e-4}});
    return out;
}

Target target(const char* grip) { return {.grip = Grip::parse(grip).value(), .tuning = {}, .capo = 0, .a4_hz = 440.0, .chord = {}, .bass = {}}; }

}  // namespace

TEST_CASE("A fretted note lies between the open and the set-up's fretted one, against the whole guitar") {
    const KnownGuitar known = guitar({-8.0, -8.0, -8.0, -8.0, -8.0, 16.0});
    CHECK(known.whole_cents() == -4.0);  // the median of five strings at -8 and -4, one at 16 and 20
    CHECK(known.expected(0, 0).cents == -4.0);
    CHECK(known.expected(0, 7).cents == 0.0);
    CHECK(std::abs(known.expected(5, 14).cents - (16.0 + 1.7 * 4.0 + 4.0)) < 1e-9);
    CHECK(std::abs(known.expected(0, 7).stiffness - 4e-4) < 1e-12);
    CHECK(known.expected(0, 3).stiffness > 1e-4);
    CHECK(known.expected(0, 3).stiffness < 4e-4);
}

TEST_CASE("Each note is expected on the string where it is asked, an open string on itself") {
    const KnownGuitar known = guitar({0.0, 20.0, 0.0, 0.0, 0.0, 0.0});
    const auto of = [&](const char* grip, int midi) { return expected_notes(known, target(grip)).of(midi); };
    const double whole = known.whole_cents();
    REQUIRE(of("3x23xx", 45) != nullptr);
    CHECK(of("3x23xx", 45)->cents == 20.0 - whole);  // the open fifth string
    CHECK(std::abs(of("5x4x5x", 45)->cents - (5.0 / 7.0 * 4.0 - whole)) < 1e-9);  // string 6 at its fifth fret
    CHECK(of("3x23xx", 30) == nullptr);
    KnownGuitar other = known;
    other.tuning = Tuning::parse("drop D").value();
    CHECK(expected_notes(other, target("3x23xx")).of(45) == nullptr);
    KnownGuitar with_capo = known;
    with_capo.capo = 2;
    CHECK(expected_notes(with_capo, target("3x23xx")).of(40) == nullptr);  // below its capo
    CHECK(with_capo.expected(0, 0).cents == expected_notes(with_capo, target("3x23xx")).of(42)->cents);
}

TEST_CASE("Without a known guitar, and with one that says what is the case anyway, a grip is judged right; a wrong one wrong") {
    const int rate_hz = 48000;
    std::vector<float> sound(static_cast<std::size_t>(rate_hz) * 2, 0.0F);
    for (const auto& [midi, cents] : {std::pair(43, -20.0), {52, 15.0}, {58, 0.0}}) {  // 3x23xx, strings far from each other
        StiffString string{.stiffness = 1e-4, .level = 0.1, .tilt = 0.7, .decay_s = 4.0, .seed = static_cast<std::uint32_t>(midi)};
        string.f0_hz = 440.0 * std::exp2((midi - 69) / 12.0 + cents / 1200.0);
        add_string(string, rate_hz, sound, static_cast<std::size_t>(rate_hz) / 2);
    }
    add_noise(1e-4, 9, sound);
    dsp::StrumChain chain({.rate_hz = rate_hz});
    chain.process(sound);
    chain.finish();
    KnownGuitar known;
    for (const double cents : {-20.0, 0.0, 15.0, 0.0, 0.0, 0.0}) known.strings.push_back({{cents, 1e-4}, {cents, 1e-4}});
    Judge with({.guitar = std::make_shared<const KnownGuitar>(known)}), without;
    dsp::StrumEvidence evidence;
    int looks = 0;
    while (chain.take(evidence)) {
        if (!evidence.last) continue;
        ++looks;
        for (Judge* judge : {&with, &without}) {
            judge->ask(target("3x23xx"));
            CHECK(judge->verdict_now(evidence).kind == VerdictKind::right);
            judge->ask(target("3x24xx"));
            const Verdict wrong = judge->verdict_now(evidence);
            CHECK(wrong.kind == VerdictKind::wrong);
            REQUIRE_FALSE(wrong.faults.empty());
            CHECK(wrong.faults[0].kind == FaultKind::wrong_note);
            CHECK(wrong.faults[0].frets == -1);
        }
    }
    CHECK(looks == 1);
}
