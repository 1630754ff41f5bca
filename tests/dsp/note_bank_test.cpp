// What a note bank reads of one note while another sounds, against sums of sines whose levels are known by construction, and the transform of the
// Hann window (Harris 1978, "On the use of windows for harmonic analysis with the discrete Fourier transform").
#include "dsp/note_bank.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <complex>
#include <memory>
#include <numbers>
#include <vector>

#include "dsp/history.h"
#include "dsp/spectrum_maker.h"

using namespace gripline::dsp;

namespace {

constexpr double kHeard_s = 0.26;

struct Sine {
    double hz, level, phase = 0.0;
    double fall_db_s = 0.0;  ///< decay
};

double hz_of(int midi) { return 440.0 * std::exp2((midi - 69) / 12.0); }

/// Harmonics 1 to 8 of a note, each falling by a third.
void add_note(std::vector<Sine>& sines, int midi, double level, double fall_db_s = 0.0) {
    for (int k = 1; k <= 8; ++k, level /= 1.5) sines.push_back({k * hz_of(midi), level, 0.7 * k * k + midi, fall_db_s});
}

/// Evidence of sines that sound from 0 on, cut as the chain cuts a strum of kHeard_s, and of those that sounded before 0.
std::unique_ptr<StrumEvidence> evidence_of(const std::vector<Sine>& sines, const std::vector<Sine>& rang = {}) {
    SpectrumMaker maker;
    auto e = std::make_unique<StrumEvidence>();
    constexpr std::int64_t kRang = 1320, kGap = 48;  // 110 ms up to 4 ms before the strum
    if (!rang.empty()) {
        History before(8192);
        for (std::int64_t i = 0; i < kRang; ++i) {
            const double t = static_cast<double>(i - kRang - kGap) / kAnalysisRateHz;
            double x = 0.0;
            for (const Sine& s : rang) x += s.level * std::pow(10.0, -s.fall_db_s * t / 20.0) * std::sin(2.0 * std::numbers::pi * s.hz * t + s.phase);
            before.push(static_cast<float>(x));
        }
        maker.make(before, 0, kRang, e->rang);
    }
    History history(8192);
    const auto frames = static_cast<std::int64_t>(kHeard_s * kAnalysisRateHz);
    for (std::int64_t i = 0; i < frames; ++i) {
        const double t = static_cast<double>(i) / kAnalysisRateHz;
        double x = 0.0;
        for (const Sine& s : sines) x += s.level * std::pow(10.0, -s.fall_db_s * t / 20.0) * std::sin(2.0 * std::numbers::pi * s.hz * t + s.phase);
        history.push(static_cast<float>(x));
    }
    e->heard_s = kHeard_s;
    const std::int64_t half = (frames - 180) * 11 / 20;
    maker.make(history, 0, 1080, e->attack);
    maker.make(history, 300, frames, e->body);
    maker.make(history, frames - 1080, frames, e->late);
    maker.make(history, 180, 180 + half, e->earlier);
    maker.make(history, frames - half, frames, e->later);
    maker.make(history, 180, frames, e->whole);
    e->apart_s = static_cast<float>(frames - half - 180) / kAnalysisRateHz;
    e->rang_apart_s = static_cast<float>(180.0 + 0.5 * static_cast<double>(half) + kGap + 0.5 * kRang) / kAnalysisRateHz;
    return e;
}

/// Of the note's partial `k` (from 1): level alone in the later window against the loudest of the body, dB; how far it fell between the two windows;
/// whether its phase went on at its frequency (1), and how far from the note's nominal place that is at which it did; level alone in the window that holds
/// both; that against the mean of the two windows, and against what the notes leave unexplained beside it.
struct Reading {
    double level_db, fall_db, steady, off_cents, whole_db, exact_db, clear_db;
};
Reading read(const std::vector<Sine>& sines, int midi, std::vector<int> others, int k) {
    const auto evidence = evidence_of(sines);
    NoteBank bank;
    bank.begin(*evidence, 0.0);
    (void)bank.fit(others);
    const NoteFeatures row = bank.features(midi, others);
    const auto at = static_cast<std::size_t>((k - 1) * kPartialMeasures);
    return {50.0 * row[at + 7] - 50.0,  15.0 * row[at + 8], row[at + 9], 30.0 * row[at + 10] + 24.0 * row[kPartialMeasures * kNoteFeaturePartials + 1],
            50.0 * row[at + 11] - 50.0, 10.0 * row[at + 12], 20.0 * row[at + 13]};
}

}  // namespace

TEST_CASE("a spectrum with phases gives a sine's level and its phase in the middle of the window, between bins too") {
    History history(8192);
    for (int i = 0; i < 3000; ++i) history.push(static_cast<float>(0.25 * std::cos(2.0 * std::numbers::pi * 331.7 * i / kAnalysisRateHz + 0.4)));
    SpectrumMaker maker;
    PhasedSpectrum spectrum;
    maker.make(history, 1000, 2600, spectrum);
    CHECK(spectrum.length_s == doctest::Approx(1600.0 / kAnalysisRateHz));
    const std::complex<float> value = spectrum.at(331.7F);
    CHECK(std::abs(value) == doctest::Approx(0.25).epsilon(0.01));
    const double phase = 2.0 * std::numbers::pi * 331.7 * 1799.5 / kAnalysisRateHz + 0.4;
    CHECK(std::abs(std::remainder(std::arg(value) - phase, 2.0 * std::numbers::pi)) < 0.05);
    CHECK(std::abs(spectrum.at(5000.0F)) == 0.0F);
    CHECK(PhasedSpectrum{}.length_s == 0.0F);
}

TEST_CASE("a note is read alone beside a louder one a tone away, whose partial lies within the window's lobe") {
    // A3 at 220 Hz beside a louder G3 at 196 Hz: 24 Hz apart, the lobe of a window of 135 ms reaches 15 Hz to each side, its skirts further.
    for (const double under_db : {0.0, 10.0, 20.0, 30.0}) {
        CAPTURE(under_db);
        std::vector<Sine> sines;
        add_note(sines, 55, 0.3);
        add_note(sines, 57, 0.3 * std::pow(10.0, -under_db / 20.0));
        CHECK(read(sines, 57, {55}, 1).level_db == doctest::Approx(-under_db).epsilon(0.02).scale(50.0));
    }
}

TEST_CASE("a semitone away, inside the lobe, too; and a note that does not sound reads far below") {
    // A3 at 220 Hz beside G#3 at 207.7 Hz: 12.3 Hz, inside the lobe.
    std::vector<Sine> both;
    add_note(both, 56, 0.3);
    std::vector<Sine> one = both;
    add_note(both, 57, 0.3 * std::pow(10.0, -10.0 / 20.0));
    CHECK(std::abs(read(both, 57, {56}, 1).level_db + 10.0) < 1.5);
    CHECK(read(one, 57, {56}, 1).level_db < -25.0);
}

TEST_CASE("how far a partial falls between the two windows follows its decay") {
    // The windows' middles lie 110 ms apart: 20 dB a second are 2.2 dB, 120 are 13.2.
    const double apart_s = (kHeard_s - 0.015) * 0.45;
    for (const double fall_db_s : {0.0, 20.0, 60.0, 120.0}) {
        CAPTURE(fall_db_s);
        std::vector<Sine> sines;
        add_note(sines, 55, 0.3);
        add_note(sines, 62, 0.3, fall_db_s);
        CHECK(std::abs(read(sines, 62, {55}, 1).fall_db + fall_db_s * apart_s) < 1.0);
    }
}

TEST_CASE("a string's phase goes on at its frequency; a body's resonance beside its place turns at its own") {
    // A2 at 110 Hz under a D3. The windows' middles lie 110 ms apart: 1 Hz beside is a turn of 40 degrees, 3 Hz of 119.
    std::vector<Sine> string;
    add_note(string, 50, 0.3);
    std::vector<Sine> body = string;
    add_note(string, 45, 0.1, 20.0);
    body.push_back({107.0, 0.1, 0.3, 60.0});
    const Reading of_string = read(string, 45, {50}, 1), of_body = read(body, 45, {50}, 1);
    CHECK(of_string.steady > 0.98);
    CHECK(std::abs(of_string.off_cents) < 6.0);
    CHECK(of_body.steady < 0.2);
    CHECK(std::abs(of_body.off_cents - 1200.0 * std::log2(107.0 / 110.0)) < 4.0);
}

TEST_CASE("a string that rings on from before the strum keeps its phase; one struck anew, at the same pitch and as loud, does not") {
    // An open B under a C7 shell, and the same B struck with it.
    std::vector<Sine> open, shell;
    add_note(open, 59, 0.1, 10.0);
    for (const int midi : {36 + 12, 52, 58}) add_note(shell, midi, 0.2, 15.0);
    std::vector<Sine> ringing_on = shell, anew = shell;
    ringing_on.insert(ringing_on.end(), open.begin(), open.end());
    for (Sine s : open) {
        s.phase += 2.0;
        anew.push_back(s);
    }
    const std::vector<int> others{48, 52, 58};
    const auto goes_on = [&](const std::vector<Sine>& sines) {
        const auto evidence = evidence_of(sines, open);
        NoteBank bank;
        bank.begin(*evidence, 0.0);
        (void)bank.fit(others);
        const NoteFeatures row = bank.features(59, others);
        CHECK(std::abs(20.0 * row[15]) < 4.0);  // as loud before as after, but for its decay
        return std::array{row[14], row[kPartialMeasures * kNoteFeaturePartials + 28], row[kPartialMeasures * kNoteFeaturePartials + 29]};
    };
    for (const float share : goes_on(ringing_on)) CHECK(share > 0.9F);
    for (const float share : goes_on(anew)) CHECK(share < 0.3F);
}

TEST_CASE("the long window reads a low semitone's partials apart, and what lies beside them tells a partial from what only lies near its place") {
    // F2 at 87.3 Hz under E2 at 82.4 Hz: 4.9 Hz, two thirds of a bin of a short window, six fifths of one of the long window.
    for (const double under_db : {0.0, 10.0, 20.0}) {
        CAPTURE(under_db);
        std::vector<Sine> sines;
        add_note(sines, 40, 0.3);
        add_note(sines, 41, 0.3 * std::pow(10.0, -under_db / 20.0));
        CHECK(std::abs(read(sines, 41, {40}, 1).whole_db - read(sines, 40, {41}, 1).whole_db + under_db) < 1.5);
    }
    std::vector<Sine> string, beside;
    add_note(string, 50, 0.3);
    beside = string;
    add_note(string, 45, 0.1);
    beside.push_back({106.0, 0.1, 0.3});
    const Reading of_string = read(string, 45, {50}, 1), of_other = read(beside, 45, {50}, 1);
    CHECK(std::abs(of_string.exact_db) < 0.7);
    CHECK(of_string.clear_db > 25.0);
    CHECK(of_other.exact_db < -2.0);
    CHECK(of_other.clear_db < 8.0);
}

TEST_CASE("weights alone are those of a fit, and a repeated fit gives the same error") {
    std::vector<Sine> sines;
    for (const int midi : {43, 52, 59}) add_note(sines, midi, 0.2);
    const auto evidence = evidence_of(sines);
    NoteBank bank;
    bank.begin(*evidence, 0.0);
    const std::vector<int> asked{43, 52, 59}, other{43, 52, 60};
    const float error = bank.fit(asked).error();
    const float weight = bank.weight(2);
    const NoteFeatures before = bank.features(60, asked);
    CHECK(bank.fit(other).error() > error);
    bank.weigh(asked);
    CHECK(bank.weight(2) == weight);
    CHECK(bank.fit(asked).error() == error);
    CHECK(bank.features(60, asked) == before);  // the prediction is that of the last fit again
}
