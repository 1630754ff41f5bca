// Single notes as a guitar's set-up measures them, on synthetic stiff strings (Fletcher 1964) whose partials are known.
#include "dsp/guitar_voice.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <memory>

#include "dsp/sound_memory.h"
#include "support/alloc_count.h"
#include "support/stiff_string.h"

using namespace gripline;
using namespace gripline::test;
using dsp::NoteVoice;

namespace {

constexpr int kRate_hz = 48000;

double hz_of(int midi) { return 440.0 * std::exp2((midi - 69) / 12.0); }  // ISO 16:1975, MIDI 1.0

/// A steady string at `tilt` a partial, read from 0.235 s of it.
NoteVoice measured(int midi, double stiffness, double tilt, double noise = 1e-6) {
    StiffString string{.stiffness = stiffness, .level = 0.1, .tilt = tilt};
    string.f0_hz = hz_of(midi) / std::sqrt(1.0 + stiffness);
    std::vector<float> sound(kRate_hz / 2, 0.0F);
    add_string(string, kRate_hz, sound);
    add_noise(noise, 3, sound);
    dsp::SoundMemory memory(kRate_hz);
    memory.process(sound);
    auto body = std::make_unique<dsp::Spectrum>();
    memory.look(0.2, 0.435, *body);
    return dsp::measure_note(*body, midi, hz_of(midi), stiffness);
}

/// Notes whose partials are the reference's and `gain` of the frequency.
template <class Gain>
std::vector<NoteVoice> coloured(Gain gain) {
    std::vector<NoteVoice> out;
    for (const auto& reference : dsp::kVoiceReference) {
        NoteVoice note;
        note.midi = reference.midi;
        note.partial_db = reference.partial_db;
        for (int n = 1; n <= dsp::kVoicePartials; ++n) {
            float& level = note.partial_db[static_cast<std::size_t>(n - 1)];
            if (level > dsp::kNoPartial_db) level += static_cast<float>(gain(note.partial_hz(n)));
        }
        out.push_back(note);
    }
    return out;
}

}  // namespace

TEST_CASE("Partials of a stiff string are read within 0.7 dB of what they are, on every string") {
    for (const int midi : {40, 45, 50, 55, 59, 64, 71}) {
        for (const double stiffness : {2e-5, 8e-5, 2e-4}) {
            const NoteVoice note = measured(midi, stiffness, 0.75);
            double power = 0.0;
            int count = 0;
            for (int n = 1; n <= dsp::kVoicePartials && note.partial_hz(n) <= 4100.0; ++n, ++count) power += std::pow(0.75, 2.0 * (n - 1));
            for (int n = 1; n <= count; ++n) {
                CAPTURE(midi);
                CAPTURE(n);
                CHECK(std::abs(static_cast<double>(note.partial_db[static_cast<std::size_t>(n - 1)]) - 20.0 * std::log10(std::pow(0.75, n - 1) / std::sqrt(power))) < 0.7);
                CHECK(std::abs(note.partial_hz(n) - n * hz_of(midi) / std::sqrt(1.0 + stiffness) * std::sqrt(1.0 + stiffness * n * n)) < 1e-6);
            }
            CHECK(std::abs(note.cents) < 1e-9);
        }
    }
}

TEST_CASE("A partial lost in the noise is none, and silence has none at all") {
    const NoteVoice noisy = measured(45, 8e-5, 0.5, 3e-3);
    CHECK(noisy.partial_db[0] > -3.0F);
    CHECK(noisy.partial_db[11] == dsp::kNoPartial_db);  // 66 dB below the first, 26 dB below the noise
    const dsp::Spectrum silence{};
    for (const float level : dsp::measure_note(silence, 45, 110.0, 8e-5).partial_db) CHECK(level == dsp::kNoPartial_db);
}

TEST_CASE("The tilt is the slope of the partials' levels over octaves") {
    NoteVoice note;
    for (int n = 1; n <= dsp::kVoicePartials; ++n) note.partial_db[static_cast<std::size_t>(n - 1)] = static_cast<float>(-2.0 - 9.0 * std::log2(n));
    CHECK(std::abs(dsp::tilt_db_per_octave(note) + 9.0) < 1e-4);
    note.partial_db.fill(dsp::kNoPartial_db);
    CHECK(dsp::tilt_db_per_octave(note) == 0.0);
}

TEST_CASE("The average guitar's own notes have a flat response; a shelf laid over them is found again") {
    for (const float gain : dsp::response_of(coloured([](double) { return 0.0; })).gain_db) CHECK(std::abs(gain) < 1e-4F);
    const auto shelf = [](double hz) { return 3.0 * std::tanh(2.0 * std::log2(hz / 600.0)); };
    const auto curve = dsp::response_of(coloured(shelf));
    double mean = 0.0;
    for (int band = 0; band < dsp::kResponseBands; ++band) mean += shelf(dsp::ResponseCurve::band_hz(band)) / dsp::kResponseBands;
    for (const double hz : {120.0, 250.0, 500.0, 1000.0, 2000.0, 3500.0}) {
        CAPTURE(hz);
        CHECK(std::abs(static_cast<double>(curve.at_db(hz)) - (shelf(hz) - mean)) < 1.0);
    }
    // Bounded, whatever is measured.
    for (const float gain : dsp::response_of(coloured([](double hz) { return hz < 500.0 ? -40.0 : 0.0; })).gain_db) CHECK(std::abs(gain) <= dsp::kMostResponse_db);
    CHECK(dsp::response_of({}).gain_db == dsp::ResponseCurve{}.gain_db);
}

TEST_CASE("Looking back never allocates, and what is too long ago or still to come is silence") {
    dsp::SoundMemory memory(kRate_hz);
    auto spectrum = std::make_unique<dsp::Spectrum>();
    std::vector<float> sound(static_cast<std::size_t>(kRate_hz) * 2, 0.25F);
    sound[7] = std::nanf("");
    const AllocCount count;
    memory.process(sound);
    memory.look(1.5, 1.7, *spectrum);
    CHECK(count.here() == 0);
    CHECK((*spectrum)[0] > 0.2F);
    for (const auto& [from_s, to_s] : {std::pair{0.1, 0.3}, {1.9, 2.5}, {1.7, 1.5}, {-1.0, 0.2}}) {
        memory.look(from_s, to_s, *spectrum);
        CHECK(*std::max_element(spectrum->begin(), spectrum->end()) == 0.0F);
    }
}
