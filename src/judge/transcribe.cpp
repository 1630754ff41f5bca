#include <algorithm>
#include <cmath>

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

/// Takes away, one by one, the note that the judge's model holds for not sounding: body resonances, hum, sympathy.
void drop_unlikely_notes(const dsp::StrumEvidence& evidence, double offset, dsp::NoteBank& bank, const dsp::ExpectedNotes* expected, NoteSet& notes) {
    std::vector<Hypothesis> hypotheses;
    Weighing weighing;
    Chances chances;
    while (notes.size() > 1) {
        hypotheses.clear();
        hypotheses.push_back({std::nullopt, true, 0, 0, notes});
        for (const int midi : notes.notes()) {
            NoteSet fewer(notes);
            fewer.erase(midi);
            // The string that would play it in the lower positions, a fourth apart from E2 up.
            hypotheses.push_back({FaultKind::missing_note, false, std::clamp(6 - (midi - 40) / 5, 1, 6), 0, fewer});
        }
        hypotheses.push_back({FaultKind::nothing, false, 0, 0, {}});
        weigh(evidence, hypotheses, offset, bank, weighing, expected);
        const auto chance = chances.of(weighing, hypotheses);
        const auto missing_end = chance.end() - 1;  // the last one is `nothing`
        const auto worst = std::max_element(chance.begin(), missing_end);
        if (worst == chance.begin()) break;
        notes = hypotheses[static_cast<std::size_t>(weighing.hypotheses[static_cast<std::size_t>(worst - chance.begin())].index)].notes;
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
    drop_unlikely_notes(evidence, offset, bank, expected, notes);
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
