#include "lines/scale_grips.h"

#include <algorithm>

#include "fretboard/stage.h"

namespace gripline {

namespace {

int lowest_fretted(const Grip& grip) {
    int lowest = kMaxFret + 1;
    for (int string = 1; string <= grip.strings(); ++string)
        if (const auto fret = grip.fret(StringNumber(string)); fret && fret->number() > 0) lowest = std::min(lowest, fret->number());
    return lowest > kMaxFret ? 0 : lowest;
}

/// Some grip has the bass `semitones` from this one's, within the wanted part of the neck.
bool goes_on(const Choices& choices, const Candidate& from, int step, int semitones, const LineSettings& settings) {
    return std::any_of(choices.all.begin(), choices.all.end(), [&](const Candidate& next) {
        return next.step == step && next.bass == from.bass + semitones && next.hand >= settings.region_low && next.hand <= settings.region_high;
    });
}

}  // namespace

Candidate candidate_for(const Grip& grip, const std::array<NoteName, 4>& tones, const Neck& neck) {
    Candidate out;
    out.grip = grip;
    for (const GripNote& note : grip.notes(neck.tuning, neck.capo)) {
        const auto named = std::find_if(tones.begin(), tones.end(), [&](NoteName tone) { return tone.pitch_class() == note.note.pitch_class(); });
        out.notes.push_back(spelled(note.note, named != tones.end() ? *named : usual_root(note.note.pitch_class())));
    }
    out.bass = out.notes.empty() ? 0 : out.notes.front().midi().number();
    out.hand = lowest_fretted(grip);
    out.stretch = grip.stretch();
    return out;
}

Move move_between(const Choices& choices, int from, int to, const LineSettings& settings) {
    const Candidate& a = choices.all[static_cast<std::size_t>(from)];
    const Candidate& b = choices.all[static_cast<std::size_t>(to)];
    const int steps = choices.steps;
    const int ahead = ((b.step - a.step) % steps + steps) % steps;
    const int semitones = PitchClass(a.bass).up_to(PitchClass(b.bass));
    for (const bool up : {true, false}) {
        const int away = up ? ahead : steps - ahead;  // scale steps
        const int size = up ? semitones : semitones - 12;
        const int leapt = b.bass - a.bass;
        const bool third = away == 2 && steps == 8 && a.sounds == Sounds::chord && b.sounds == Sounds::chord;
        if (away != 1 && !third) continue;
        const MoveKind kind = third ? MoveKind::third : MoveKind::step;
        if (leapt == size) return {to, kind, false, up};
        if (leapt == size + (up ? -12 : 12) && !goes_on(choices, a, b.step, size, settings)) return {to, kind, true, up};
    }
    return {to, MoveKind::none, false, false};
}

Result<Choices> scale_grips(NoteName root, Family family, const LineSettings& settings) {
    Choices out;
    const auto scale = harmonised_scale(root, family);
    out.steps = static_cast<int>(scale.size());
    for (std::size_t set = 0; set < settings.sets.size(); ++set) {
        const auto stage = build_stage(root, family, StageKind::shell, settings.sets[set], settings.neck);
        if (!stage) return stage.error();
        for (std::size_t step = 0; step < stage->steps.size(); ++step) {
            for (const Grip& place : stage->steps[step].places) {
                Candidate candidate = candidate_for(place, scale[step].tones, settings.neck);
                candidate.sounds = scale[step].role == Role::chord ? Sounds::chord : Sounds::passing;
                candidate.chord = scale[step].chord;
                candidate.set = static_cast<int>(set);
                candidate.step = static_cast<int>(step);
                out.all.push_back(std::move(candidate));
            }
        }
    }
    out.unbroken = static_cast<int>(out.all.size());
    out.moves.resize(out.all.size());
    for (int from = 0; from < out.unbroken; ++from) {
        for (int to = 0; to < out.unbroken; ++to) {
            const Move move = move_between(out, from, to, settings);
            if (move.kind != MoveKind::none) out.moves[static_cast<std::size_t>(from)].push_back(move);
        }
    }
    return out;
}

}  // namespace gripline
