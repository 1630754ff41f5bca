#include "judge/any_voicing.h"

#include <algorithm>

namespace gripline {

namespace {

constexpr int kLowest = 38, kHighest = 79;  // D2 (drop D) to G5: where grips lie
constexpr int kMostNotes = 7;               // one less than a fit holds
constexpr float kLeastGain = 0.015F;        // share of the sound that a doubling must explain

unsigned bits_of(std::span<const PitchClass> chord) {
    unsigned bits = 0;
    for (const PitchClass p : chord) bits |= 1U << p.value();
    return bits;
}

/// The note with the largest further gain among those whose pitch class is in `bits`; -1 when none gains.
int best_addition(dsp::NoteBank& bank, unsigned bits, const NoteSet& present, float& gain) {
    int best = -1;
    gain = 0.0F;
    for (int midi = kLowest; midi <= kHighest; ++midi) {
        if (((bits >> (midi % 12)) & 1U) == 0 || present.contains(midi)) continue;
        const float g = bank.further_gain(midi);
        if (g > gain) {
            gain = g;
            best = midi;
        }
    }
    return best;
}

NoteSet moved(const NoteSet& notes, unsigned pitch_class, int semitones) {
    NoteSet out;
    for (const int midi : notes.notes()) out.insert(static_cast<unsigned>(midi % 12) == pitch_class ? midi + semitones : midi);
    return out;
}

}  // namespace

NoteSet best_voicing(dsp::NoteBank& bank, std::span<const PitchClass> chord) {
    const unsigned wanted = bits_of(chord);
    NoteSet notes;
    (void)bank.fit(notes.notes());
    while (notes.size() < kMostNotes) {
        float gain = 0.0F;
        const int best = best_addition(bank, wanted, notes, gain);
        if (best < 0 || gain < kLeastGain) break;
        notes.insert(best);
        (void)bank.fit(notes.notes());
    }
    for (const PitchClass p : chord) {
        const unsigned bit = 1U << p.value();
        if ((notes.pitch_classes() & bit) != 0) continue;
        float gain = 0.0F;
        const int best = best_addition(bank, bit, notes, gain);
        notes.insert(best >= 0 ? best : 48 + p.value());
        (void)bank.fit(notes.notes());
    }
    return notes;
}

std::vector<Hypothesis> hypotheses_for(const NoteSet& voicing, std::span<const PitchClass> chord, std::optional<PitchClass> bass, dsp::NoteBank& bank) {
    const unsigned wanted = bits_of(chord);
    const auto is_right = [&](const NoteSet& notes) { return notes.pitch_classes() == wanted && (!bass || notes.lowest() % 12 == bass->value()); };
    std::vector<Hypothesis> out;
    const auto add = [&](FaultKind kind, int frets, const NoteSet& notes) {
        if (notes.size() > 0 && !(notes == voicing)) out.push_back({kind, is_right(notes), 0, frets, notes});
    };
    const bool bass_holds = is_right(voicing);
    out.push_back({std::nullopt, bass_holds, 0, 0, voicing});
    if (!bass_holds) out.back().fault = FaultKind::wrong_bass;
    for (const PitchClass p : chord) {
        for (int semitones = -3; semitones <= 3; ++semitones)
            if (semitones != 0) add(FaultKind::wrong_note, semitones, moved(voicing, static_cast<unsigned>(p.value()), semitones));
        NoteSet fewer;
        for (const int midi : voicing.notes())
            if (midi % 12 != p.value()) fewer.insert(midi);
        add(FaultKind::missing_note, 0, fewer);
    }
    (void)bank.fit(voicing.notes());
    for (unsigned foreign = 0; foreign < 12; ++foreign) {
        if (((wanted >> foreign) & 1U) != 0) continue;
        float gain = 0.0F;
        const int best = best_addition(bank, 1U << foreign, voicing, gain);
        if (best < 0 || hides_behind(best, voicing)) continue;
        NoteSet more(voicing);
        more.insert(best);
        add(FaultKind::extra_note, 0, more);
    }
    for (int semitones = -3; semitones <= 3; ++semitones) {
        NoteSet shifted;
        for (const int midi : voicing.notes()) shifted.insert(midi + semitones);
        if (semitones != 0) add(FaultKind::shifted, semitones, shifted);
    }
    if (bass) {
        for (const PitchClass p : chord) {
            if (p.value() == voicing.lowest() % 12) continue;
            NoteSet lower(voicing);
            lower.insert(voicing.lowest() - p.up_to(PitchClass(voicing.lowest())));
            add(FaultKind::wrong_bass, 0, lower);
        }
    }
    out.push_back({FaultKind::nothing, false, 0, 0, {}});
    return out;
}

}  // namespace gripline
