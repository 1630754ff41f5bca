// Steps and verdicts made by hand for the tests of practice and screens.
#pragma once

#include <string>
#include <vector>

#include "judge/verdict.h"
#include "practice/exercise.h"

namespace gripline::test {

inline PracticeStep step(const std::string& chord, const std::string& bass, const std::string& fret_string) {
    PracticeStep made;
    made.chord = chord;
    made.bass = bass;
    made.grip = Grip::parse(fret_string).value();
    return made;
}

/// Four of the C dominant-seventh shells on strings 6-4-3, from the low end of the neck up (the trade's worked table).
inline Exercise four_shells() {
    Exercise exercise;
    exercise.family = "C dominant seventh";
    exercise.stage = "shell";
    exercise.string_set = "6-4-3";
    exercise.steps = {step("C7", "G", "3x23xx"), step("Bdim7", "Ab", "4x34xx"), step("C7", "Bb", "6x55xx"), step("C7", "E", "12-x-10-12-x-x")};
    return exercise;
}

inline Verdict verdict(VerdictKind kind, double onset_s, std::vector<Fault> faults = {}) {
    Verdict made;
    made.kind = kind;
    made.onset_s = onset_s;
    made.decided_s = onset_s + 0.2;
    made.faults = std::move(faults);
    made.level_db = -20.0;
    return made;
}

inline Fault wrong_note(int string, int frets, int asked, double probability = 0.9) {
    Fault fault;
    fault.kind = FaultKind::wrong_note;
    fault.string = StringNumber(string);
    fault.frets = frets;
    fault.asked = MidiNote(asked);
    fault.heard = MidiNote(asked + frets);
    fault.probability = probability;
    return fault;
}

}  // namespace gripline::test
