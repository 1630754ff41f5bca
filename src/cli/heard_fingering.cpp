#include "cli/heard_fingering.h"

#include <algorithm>
#include <limits>
#include <optional>
#include <utility>

namespace gripline {

namespace {

constexpr float kNote = 0.02F;          // share of the sound that a note has to explain, as in transcription
constexpr std::ptrdiff_t kTried = 6;    // ways to hold it; of 1077 strums on guitars whose strings stray by 12 to 20 cents one way alone names 7 fewer exactly
constexpr int kStretch_frets = 4;       // of a shell or a drop-2 grip; open strings aside
constexpr std::size_t kMostGrips = 64;

/// Puts the notes from `at` on, on strings above `string_above`, in every way.
void hold(const std::vector<MidiNote>& notes, std::size_t at, const Tuning& tuning, int capo, int string_above, Grip& grip, std::vector<Grip>& out) {
    if (out.size() >= kMostGrips) return;
    if (at == notes.size()) {
        if (grip.stretch() <= kStretch_frets) out.push_back(grip);
        return;
    }
    for (int string = string_above - 1; string >= 1; --string) {
        const int fret = notes[at].number() - tuning.open(StringNumber(string)).number() - capo;
        if (fret < 0 || fret > kMaxFret - capo) continue;
        grip.set(StringNumber(string), Fret(fret));
        if (grip.stretch() <= kStretch_frets) hold(notes, at + 1, tuning, capo, string, grip, out);
        grip.set(StringNumber(string), std::nullopt);
    }
}

}  // namespace

std::vector<Grip> fingerings_of(const std::vector<MidiNote>& notes, const Tuning& tuning, int capo) {
    std::vector<Grip> out;
    Grip grip(tuning.strings());
    if (!notes.empty()) hold(notes, 0, tuning, capo, tuning.strings() + 1, grip, out);
    return out;
}

Verdict transcribe_on(const KnownGuitar& guitar, const dsp::StrumEvidence& evidence, double a4_hz) {
    dsp::NoteBank bank;
    const double offset = offset_cents(evidence, a4_hz);
    const auto expected_of = [&](const Grip& grip) {
        Target target;
        target.grip = grip;
        target.tuning = guitar.tuning;
        target.capo = guitar.capo;
        return expected_notes(guitar, target);
    };
    const auto cost = [&](const std::vector<MidiNote>& notes, const dsp::ExpectedNotes& expected) {
        std::vector<int> numbers;
        for (const MidiNote note : notes) numbers.push_back(note.number());
        bank.begin(evidence, offset, &expected);
        return bank.fit(numbers).error() + kNote * static_cast<float>(numbers.size());
    };
    Verdict best = transcribe(evidence, a4_hz, bank);
    std::vector<std::pair<float, Grip>> held;
    const auto hold_all = [&](const std::vector<MidiNote>& notes) {
        for (const Grip& grip : fingerings_of(notes, guitar.tuning, guitar.capo)) held.emplace_back(cost(notes, expected_of(grip)), grip);
    };
    hold_all(best.heard);
    // A string far out of tune is often heard as two notes: without each of them too.
    for (std::size_t left_out = 0; left_out < best.heard.size() && best.heard.size() > 1; ++left_out) {
        std::vector<MidiNote> fewer = best.heard;
        fewer.erase(fewer.begin() + static_cast<std::ptrdiff_t>(left_out));
        hold_all(fewer);
    }
    std::stable_sort(held.begin(), held.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
    if (held.size() > static_cast<std::size_t>(kTried)) held.erase(held.begin() + kTried, held.end());
    float least = std::numeric_limits<float>::max();
    for (const auto& [before, grip] : held) {
        const dsp::ExpectedNotes expected = expected_of(grip);
        dsp::NoteBank known(&expected);
        Verdict heard = transcribe(evidence, a4_hz, known);
        const float now = cost(heard.heard, expected);
        if (now >= least) continue;
        least = now;
        best = std::move(heard);
    }
    return best;
}

}  // namespace gripline
