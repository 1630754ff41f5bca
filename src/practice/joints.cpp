#include "practice/joints.h"

#include <algorithm>
#include <memory>

#include "practice/practice_attempts.h"
#include "practice/walk_attempts.h"

namespace gripline {
namespace {

PracticeStep step_on(const Line& line, std::size_t index, const Neck& neck, double a4_hz, Asking asking) {
    const LineBeat& beat = line.beats[index];
    PracticeStep step;
    step.asked = asked_on(line, index);
    step.chord = step.asked.chord;
    step.bass = beat.notes.front().name.text();
    step.grip = beat.grip;
    step.tuning = neck.tuning;
    step.capo = neck.capo;
    step.a4_hz = a4_hz;
    for (const SpelledNote& note : beat.notes) step.names[static_cast<std::size_t>(note.name.pitch_class().value())] = note.name.text();
    std::vector<StringNumber> strings;
    for (const GripNote& note : step.notes()) strings.push_back(note.string);
    step.asked.strings = StringSet(strings);
    step.asked.asking = asking;
    return step;
}

bool same(const PracticeStep& a, const PracticeStep& b) { return a.grip == b.grip && a.given->grip == b.given->grip && skill_of(a.asked) == skill_of(b.asked); }

}  // namespace

Result<Exercise> make_joints(const Line& line, const Neck& neck, double a4_hz, const Pins& pins, Asking asking) {
    if (asking == Asking::next_step || asking == Asking::scale_note) return Error{"a joint is an approach and its target, no step of a scale: ask it shown, named, by-ear or into-the-target"};
    std::vector<PracticeStep> joints;
    bool any = false;
    for (std::size_t i = 0; i + 1 < line.beats.size(); ++i) {
        const LineBeat& beat = line.beats[i];
        const LineBeat& next = line.beats[i + 1];
        if (beat.role != Sounds::approach || !beat.from || beat.notes.empty() || next.notes.empty()) continue;
        any = true;
        PracticeStep approach = step_on(line, i, neck, a4_hz, asking);
        if (!pins.allow(skill_of(approach.asked))) continue;
        approach.given = std::make_shared<const PracticeStep>(step_on(line, i + 1, neck, a4_hz, asking));
        if (std::none_of(joints.begin(), joints.end(), [&](const PracticeStep& each) { return same(each, approach); })) joints.push_back(std::move(approach));
    }
    if (!any) return Error{"the line over it has no joint: no approach chord leads into another chord (a joint needs two chords, the first of them two counts long)"};
    if (joints.empty()) return Error{"no joint is left by: " + pins.text() + "; pin less"};
    Exercise pool;
    pool.family = "Joints";
    pool.stage = name(StageKind::shell);
    pool.string_set = joints.front().asked.strings.text();
    for (PracticeStep& approach : joints) {
        const PracticeStep target = *approach.given;
        pool.steps.push_back(std::move(approach));
        if (asking != Asking::into_target) pool.steps.push_back(target);
    }
    return pool;
}

}  // namespace gripline
