// What is practised: a row of steps, each a grip that is asked and judged.
#pragma once

#include <array>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "fretboard/grip.h"
#include "judge/verdict.h"
#include "practice/attempt.h"
#include "theory/pitch.h"

namespace gripline {

/// Names of the twelve pitch classes as the key spells them; index 0 = C.
using NoteNames = std::array<std::string, 12>;

/// Flats for the black keys.
[[nodiscard]] NoteNames plain_note_names();

/// One grip of an exercise.
struct PracticeStep {
    std::string chord;  ///< symbol as on a chart: "C7", "Bdim7"
    std::string bass;   ///< name of the lowest note: "E"
    Grip grip;
    Tuning tuning;
    int capo = 0;
    double a4_hz = 440.0;
    NoteNames names = plain_note_names();
    Attempt asked;      ///< as the history keeps it: what is asked; when, who and what came of it stay open
    std::shared_ptr<const PracticeStep> given{};  ///< what it is asked from: the step beside it, or, of an approach, the one it leads into; none: nothing

    [[nodiscard]] Target target() const;
    [[nodiscard]] std::vector<GripNote> notes() const { return grip.notes(tuning, capo); }
    [[nodiscard]] const std::string& name(MidiNote note) const { return names[static_cast<std::size_t>(note.pitch_class().value())]; }
};

/// The way through the steps: as they rise, as they fall, or shuffled anew for each round.
enum class StepOrder { up, down, shuffled };
inline constexpr int kStepOrders = 3;
/// "up", "down", "shuffled".
[[nodiscard]] const char* word(StepOrder order);
/// Reads a word as above.
[[nodiscard]] Result<StepOrder> parse_step_order(std::string_view text);

/// Steps in rising order, and why some of the scale's notes are not among them.
struct Exercise {
    std::string family;      ///< "C dominant seventh"
    std::string stage;       ///< "shell"
    std::string string_set;  ///< "6-4-3"
    std::vector<PracticeStep> steps;
    std::vector<std::string> left_out;  ///< one sentence for each note that the neck can't hold
};

}  // namespace gripline
