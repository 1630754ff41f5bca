#include "practice/exercise.h"

namespace gripline {

NoteNames plain_note_names() {
    NoteNames names;
    for (std::size_t i = 0; i < names.size(); ++i) names[i] = plain_name(PitchClass(static_cast<int>(i)));
    return names;
}

Target PracticeStep::target() const {
    Target target;
    target.grip = grip;
    target.tuning = tuning;
    target.capo = capo;
    target.a4_hz = a4_hz;
    return target;
}

const char* word(StepOrder order) {
    switch (order) {
        case StepOrder::up: return "up";
        case StepOrder::down: return "down";
        case StepOrder::shuffled: return "shuffled";
    }
    return "up";
}

Result<StepOrder> parse_step_order(std::string_view text) {
    for (int i = 0; i < kStepOrders; ++i) {
        if (text == word(static_cast<StepOrder>(i))) return static_cast<StepOrder>(i);
    }
    return Error{"unknown order \"" + std::string(text) + "\": up, down or shuffled"};
}

}  // namespace gripline
