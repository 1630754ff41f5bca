#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <utility>
#include <vector>

#include "judge/judge.h"
#include "judge/hypotheses.h"
#include "judge/model.h"
#include "judge/sounding.h"
#include "judge/weighing.h"

namespace gripline {

namespace {
constexpr int kLowest = 33, kHighest = 86;  // A1 (seven strings) to D6
constexpr int kMostStrings = 6;
constexpr float kLeastGain = 0.02F;         // share of the sound that a note must explain
constexpr float kLeastLoss = 0.012F;        // share lost when it is taken away again
constexpr std::size_t kMostTried = 5;       // notes that may be added to a set of notes
constexpr float kLeastTried = 0.001F;       // share of the sound that such a note must explain more
constexpr int kMostSteps = 8;               // from set to set
// How much likelier a neighbour must be than where it stands, for the model was fitted to grips that were asked, and here many are tried at once. Of 307 strums of many guitars 171
// are heard exactly with notes taken away only, 164 with all these at 1, 181 so; of 210 of three recorded guitars 174, 155, 175.
constexpr float kAddedAtLeast = 30.0F, kSemitoneAtLeast = 3.0F, kOctaveAtLeast = 3.0F;
/// The note that explains most, then the next, until none explains much more.
NoteSet explaining_notes(dsp::NoteBank& bank) {
    NoteSet notes;
    float error = bank.fit(notes.notes()).error();
    while (notes.size() < kMostStrings) {
        int best = -1;
        float gain = 0.0F;
        for (int midi = kLowest; midi <= kHighest; ++midi) {
            const float g = notes.contains(midi) ? 0.0F : bank.further_gain(midi);
            if (g > gain) {
                gain = g;
                best = midi;
            }
        }
        if (best < 0 || gain < kLeastGain) break;
        NoteSet more(notes);
        more.insert(best);
        const float next = bank.fit(more.notes()).error();
        if (error - next < kLeastGain) break;
        notes = more;
        error = next;
    }
    return notes;
}

/// Takes away what later notes have made needless.
void drop_idle_notes(dsp::NoteBank& bank, NoteSet& notes) {
    float error = bank.fit(notes.notes()).error();
    for (bool again = true; again && notes.size() > 1;) {
        again = false;
        const NoteSet before(notes);  // the loop goes over a copy that outlives it
        for (const int midi : before.notes()) {
            NoteSet fewer(notes);
            fewer.erase(midi);
            const float without = bank.fit(fewer.notes()).error();
            if (without - error < kLeastLoss && notes.size() > 1) {
                notes = fewer;
                error = without;
                again = true;
                break;
            }
        }
    }
}

/// The string that would play a note in the lower positions, a fourth apart from E2 up.
int likely_string(int midi) { return std::clamp(6 - (midi - 40) / 5, 1, 6); }

/// The notes that would explain most of what is left, most first.
std::vector<int> next_best(dsp::NoteBank& bank, const NoteSet& notes) {
    (void)bank.fit(notes.notes());
    std::vector<std::pair<float, int>> gains;
    for (int midi = kLowest; midi <= kHighest; ++midi)
        if (!notes.contains(midi) && !hides_behind(midi, notes)) gains.emplace_back(bank.further_gain(midi), midi);
    std::sort(gains.rbegin(), gains.rend());
    std::vector<int> out;
    for (const auto& [gain, midi] : gains)
        if (out.size() < kMostTried && gain > kLeastTried) out.push_back(midi);
    return out;
}

/// `notes`, and all that differs from them by a note less, a note more, a note a little or an octave off.
void neighbours(dsp::NoteBank& bank, const NoteSet& notes, std::vector<Hypothesis>& out) {
    out.clear();
    out.push_back({std::nullopt, true, 0, 0, notes});
    for (const int midi : notes.notes()) {
        NoteSet fewer(notes);
        fewer.erase(midi);
        if (fewer.size() > 0) out.push_back({FaultKind::missing_note, false, likely_string(midi), 0, fewer});
        for (const int semitones : {-12, -1, 1, 12}) {
            const int other = midi + semitones;
            if (other < kLowest || other > kHighest || notes.contains(other)) continue;
            NoteSet moved(fewer);
            moved.insert(other);
            out.push_back({FaultKind::wrong_note, false, likely_string(midi), semitones, moved});
        }
    }
    if (notes.size() < kMostStrings)
        for (const int midi : next_best(bank, notes)) {
            NoteSet more(notes);
            more.insert(midi);
            out.push_back({FaultKind::extra_note, false, likely_string(midi), 0, more});
        }
    out.push_back({FaultKind::nothing, false, 0, 0, {}});
}

float at_least(const Hypothesis& neighbour) {
    if (neighbour.fault == FaultKind::extra_note) return kAddedAtLeast;
    if (neighbour.fault == FaultKind::wrong_note) return std::abs(neighbour.frets) == 1 ? kSemitoneAtLeast : kOctaveAtLeast;
    return 1.0F;
}

/// Goes to the likeliest neighbour, by the judge's model, for as long as one is likelier than where it stands: body resonances, hum and sympathy go, an octave is put right.
void settle_notes(const dsp::StrumEvidence& evidence, double offset, dsp::NoteBank& bank, const dsp::ExpectedNotes* expected, NoteSet& notes) {
    std::vector<Hypothesis> hypotheses;
    Weighing weighing;
    Chances chances;
    for (int step = 0; step < kMostSteps; ++step) {
        neighbours(bank, notes, hypotheses);
        weigh(evidence, hypotheses, offset, bank, weighing, expected);
        const auto chance = chances.of(weighing, hypotheses);
        const Hypothesis* best = nullptr;
        float most = chance.front();
        for (std::size_t i = 1; i + 1 < chance.size(); ++i) {  // the last one is `nothing`
            const Hypothesis& neighbour = hypotheses[static_cast<std::size_t>(weighing.hypotheses[i].index)];
            if (chance[i] <= most * at_least(neighbour)) continue;
            most = chance[i] / at_least(neighbour);
            best = &neighbour;
        }
        if (best == nullptr) break;
        notes = NoteSet(best->notes);
    }
}

}  // namespace

double offset_cents(const dsp::StrumEvidence& evidence, double a4_hz) {
    const double reference = 1200.0 * std::log2(a4_hz / 440.0);
    const double off = evidence.tuning_cents - reference;
    return reference + off - 100.0 * std::round(off / 100.0);
}

Verdict transcribe(const dsp::StrumEvidence& evidence, double a4_hz) {
    dsp::NoteBank bank;
    return transcribe(evidence, a4_hz, bank);
}

Verdict transcribe(const dsp::StrumEvidence& evidence, double a4_hz, dsp::NoteBank& bank, const dsp::ExpectedNotes* expected) {
    Verdict out;
    out.onset_s = evidence.onset_s;
    out.decided_s = evidence.heard_s;
    out.level_db = evidence.level_db;
    const double offset = offset_cents(evidence, a4_hz);
    out.tuning_cents = offset - 1200.0 * std::log2(a4_hz / 440.0);
    bank.begin(evidence, offset, expected);
    NoteSet notes = explaining_notes(bank);
    drop_idle_notes(bank, notes);
    settle_notes(evidence, offset, bank, expected, notes);
    describe(notes, bank, out);
    out.kind = out.heard.empty() ? VerdictKind::unheard : VerdictKind::right;
    return out;
}

void describe(const NoteSet& notes, dsp::NoteBank& bank, Verdict& out) {
    (void)bank.fit(notes.notes());
    out.heard.clear();
    out.strengths.fill(0.0F);
    float sum = 0.0F;
    std::size_t i = 0;
    for (const int midi : notes.notes()) {
        const float weight = bank.weight(i++);
        out.heard.emplace_back(midi);
        out.strengths[static_cast<std::size_t>(midi % 12)] += weight;
        sum += weight;
    }
    if (sum > 0.0F)
        for (float& s : out.strengths) s /= sum;
    if (!out.heard.empty()) out.bass = out.heard.front().pitch_class();
}

}  // namespace gripline
