#include "practice/course.h"

#include <algorithm>

#include "practice/practice_attempts.h"

namespace gripline {
namespace {

/// The names that the stage gives to its notes; flats for the rest (wrong notes lie outside the scale).
NoteNames names_of(const Stage& stage) {
    NoteNames names = plain_note_names();
    for (const Step& step : stage.steps) names[static_cast<std::size_t>(step.lead.pitch_class().value())] = step.lead.text();
    return names;
}

PracticeStep practice_step(const Step& step, const NoteNames& names, const Neck& neck, double a4_hz) {
    PracticeStep made;
    made.chord = step.chord;
    made.bass = step.bass().name.text();
    made.grip = *step.grip;
    made.tuning = neck.tuning;
    made.capo = neck.capo;
    made.a4_hz = a4_hz;
    made.names = names;
    for (const SpelledNote& note : step.notes) made.names[static_cast<std::size_t>(note.name.pitch_class().value())] = note.name.text();
    return made;
}

/// What the history keeps of a step.
Attempt asked_of(const Course& course, const Step& step) {
    Attempt asked;
    asked.family = course.family;
    asked.root = course.root;
    asked.quality = chord_suffix(course.family);
    asked.stage = course.stage;
    asked.strings = course.strings;
    asked.chord = step.chord;
    asked.grip = *step.grip;
    asked.bass_degree = degree_in_scale(course.root, course.family, step.bass().name.pitch_class());
    asked.place = step.role == Role::passing ? Sounds::passing : Sounds::chord;
    return asked;
}

}  // namespace

Course root_moved(const Course& course, int semitones) {
    Course moved = course;
    moved.root = usual_root(course.root.pitch_class().up(semitones));
    return moved;
}

Course next_family(const Course& course) {
    Course changed = course;
    const auto* found = std::find(kSixthDiminishedFamilies.begin(), kSixthDiminishedFamilies.end(), course.family);
    const bool last = found == kSixthDiminishedFamilies.end() || found + 1 == kSixthDiminishedFamilies.end();
    changed.family = last ? kSixthDiminishedFamilies.front() : *(found + 1);
    return changed;
}

Course next_stage(const Course& course, int strings) {
    Course changed = course;
    switch (course.stage) {
        case StageKind::scale: changed.stage = StageKind::drop2; break;
        case StageKind::drop2: changed.stage = StageKind::drop3; break;
        case StageKind::drop3: changed.stage = StageKind::shell; break;
        case StageKind::shell: changed.stage = StageKind::scale; break;
    }
    const auto sets = string_sets(changed.stage, strings);
    if (!sets.empty()) changed.strings = sets.front();
    return changed;
}

Course next_string_set(const Course& course, int strings) {
    Course changed = course;
    const auto sets = string_sets(course.stage, strings);
    if (sets.empty()) return changed;
    const auto found = std::find(sets.begin(), sets.end(), course.strings);
    changed.strings = found == sets.end() || found + 1 == sets.end() ? sets.front() : *(found + 1);
    return changed;
}

Course next_order(const Course& course) {
    Course changed = course;
    changed.order = static_cast<StepOrder>((static_cast<int>(course.order) + 1) % kStepOrders);
    return changed;
}

Result<Exercise> make_exercise(const Course& course, const Neck& neck, double a4_hz) {
    auto stage = build_stage(course.root, course.family, course.stage, course.strings, neck);
    if (!stage) return stage.error();
    Exercise exercise;
    exercise.family = course.root.text() + " " + std::string(name(course.family));
    exercise.stage = name(course.stage);
    exercise.string_set = course.strings.text();
    const NoteNames names = names_of(*stage);
    for (const Step& step : stage->steps) {
        if (step.grip) {
            exercise.steps.push_back(practice_step(step, names, neck, a4_hz));
            exercise.steps.back().asked = asked_of(course, step);
        } else exercise.left_out.push_back(step.lead.text() + ": " + step.left_out);
    }
    if (exercise.steps.empty()) {
        const std::string why = exercise.left_out.empty() ? "" : " (" + exercise.left_out.front() + ")";
        return Error{"the neck holds no step of " + stage->title() + why + ": choose another root, stage or string set"};
    }
    std::stable_sort(exercise.steps.begin(), exercise.steps.end(),
                     [](const PracticeStep& a, const PracticeStep& b) { return a.notes().front().note < b.notes().front().note; });
    return exercise;
}

std::vector<Course> in_every_key(const Course& course) {
    std::vector<Course> all;
    for (const Family family : kSixthDiminishedFamilies) {
        for (int key = 0; key < 12; ++key) {
            Course each = course;
            each.family = family;
            each.root = usual_root(PitchClass(key));
            all.push_back(each);
        }
    }
    return all;
}

}  // namespace gripline
