#include "practice/exercise_prompt.h"

#include <algorithm>
#include <numeric>

#include "practice/course.h"

namespace gripline {
namespace {

// Long enough to hear three voices apart, a bass, a note, a chord of a cadence (judgement).
constexpr double kStep_s = 1.6;
constexpr double kBass_s = 0.7;
constexpr double kNote_s = 0.5;
constexpr double kCadenceChord_s = 0.9;

PracticeStep note_of(const PracticeStep& step, const GripNote& note) {
    PracticeStep one = step;
    one.grip = Grip(step.tuning.strings());
    one.grip.set(note.string, *step.grip.fret(note.string));
    return one;
}

/// The chord of a scale as a shell, with the root in the bass where there is one.
bool add_chord(NoteName root, Family family, const PracticeStep& on, std::vector<SoundedStep>& row) {
    Course course;
    course.root = root;
    course.family = family;
    Neck neck;
    neck.tuning = on.tuning;
    neck.capo = on.capo;
    const auto made = make_exercise(course, neck, on.a4_hz);
    if (!made) return false;
    const PracticeStep* best = nullptr;
    for (const PracticeStep& step : made->steps) {
        if (step.asked.place != Sounds::chord) continue;
        if (best == nullptr || step.notes().front().note.pitch_class() == root.pitch_class()) best = &step;
    }
    if (best != nullptr) row.push_back({*best, kCadenceChord_s});
    return best != nullptr;
}

}  // namespace

std::vector<SoundedStep> prompt_sounds(const PracticeStep& step, PromptStyle style) {
    std::vector<SoundedStep> row;
    auto notes = step.notes();
    std::stable_sort(notes.begin(), notes.end(), [](const GripNote& a, const GripNote& b) { return a.note < b.note; });
    if (style == PromptStyle::bass_first && notes.size() > 1) row.push_back({note_of(step, notes.front()), kBass_s});
    if (style == PromptStyle::note_by_note && notes.size() > 1) {
        for (const GripNote& note : notes) row.push_back({note_of(step, note), kNote_s});
    }
    row.push_back({step, kStep_s});
    return row;
}

std::vector<SoundedStep> key_cadence(const PracticeStep& step) {
    constexpr int kFifth_semitones = 7;
    std::vector<SoundedStep> row;
    const NoteName root = step.asked.root;
    if (!add_chord(usual_root(root.pitch_class().up(kFifth_semitones)), Family::dominant_seventh, step, row)) return {};
    if (!add_chord(root, step.asked.family, step, row)) return {};
    return row;
}

double length_s(const std::vector<SoundedStep>& row) {
    return std::accumulate(row.begin(), row.end(), 0.0, [](double sum, const SoundedStep& each) { return sum + each.length_s; });
}

}  // namespace gripline
