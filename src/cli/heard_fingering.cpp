#include "cli/heard_fingering.h"

#include <algorithm>
#include <limits>
#include <optional>
#include <utility>

namespace gripline {

namespace {

// Chosen on 1425 strums of 48 guitars that were set up from their own recordings (training/make_sessions.py, seeds 811 and 812); measured on others in DEVELOPERS.md.
constexpr float kNote = 0.06F;          // share of the sound that each note has to explain
constexpr float kBetter = 0.02F;        // and by which another answer must be better than the first
constexpr std::ptrdiff_t kTried = 6;    // ways to hold it
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

Verdict transcribe_on(const KnownGuitar& guitar, const dsp::StrumEvidence& evidence, double a4_hz, dsp::NoteBank& bank) {
    const double offset = offset_cents(evidence, a4_hz);
    const auto expected_of = [&](const Grip& grip) {
        Target target;
        target.grip = grip;
        target.tuning = guitar.tuning;
        target.capo = guitar.capo;
        return expected_notes(guitar, target);
    };
    using Held = std::pair<float, Grip>;
    /// Every way to hold the notes, with the share of the sound that they leave, and what they cost.
    const auto ways = [&](const std::vector<MidiNote>& notes) {
        std::vector<int> numbers;
        for (const MidiNote note : notes) numbers.push_back(note.number());
        std::vector<Held> out;
        for (Grip& grip : fingerings_of(notes, guitar.tuning, guitar.capo)) {
            const dsp::ExpectedNotes expected = expected_of(grip);
            bank.begin(evidence, offset, &expected);
            out.emplace_back(bank.fit(numbers).error() + kNote * static_cast<float>(numbers.size()), std::move(grip));
        }
        std::stable_sort(out.begin(), out.end(), [](const Held& a, const Held& b) { return a.first < b.first; });
        return out;
    };
    Verdict best = transcribe(evidence, a4_hz, bank);
    const std::vector<MidiNote> first = best.heard;
    std::vector<Held> held = ways(first);
    float least = held.empty() ? std::numeric_limits<float>::max() : held.front().first - kBetter;
    // A string far out of tune, or a strong partial, is often heard as two notes: without each of them too.
    for (std::size_t left_out = 0; left_out < first.size() && first.size() > 1; ++left_out) {
        std::vector<MidiNote> fewer = first;
        fewer.erase(fewer.begin() + static_cast<std::ptrdiff_t>(left_out));
        for (Held& each : ways(fewer)) held.push_back(std::move(each));
    }
    std::stable_sort(held.begin(), held.end(), [](const Held& a, const Held& b) { return a.first < b.first; });
    if (held.size() > static_cast<std::size_t>(kTried)) held.erase(held.begin() + kTried, held.end());
    for (const auto& [cost, grip] : held) {
        const dsp::ExpectedNotes expected = expected_of(grip);
        Verdict heard = transcribe(evidence, a4_hz, bank, &expected);
        const auto now = ways(heard.heard);
        if (now.empty() || now.front().first >= least) continue;
        least = now.front().first;
        best = std::move(heard);
    }
    return best;
}

}  // namespace gripline
