// Views for the pictures of the practice screen.
#pragma once

#include "practice/practice_fixture.h"
#include "practice/practice_session.h"
#include "ui/practice_words.h"

namespace gripline::test {

/// A view as the screen gets it, in the middle of a practice: after `verdict` (if any) on the step `step` (from 0) of four shells.
inline PracticeView view_of(int step, const std::optional<Verdict>& verdict, PracticeFacts facts = {}) {
    PracticeSession session;
    session.set_exercise(four_shells(), StepOrder::up, 1, {});
    for (int i = 0; i < 3; ++i) session.hear(test::verdict(VerdictKind::unheard, i), {});
    for (int i = 0; i < step; ++i) session.skip({10.0, 10.0});
    if (verdict) session.hear(*verdict, {12.0, 12.0});
    if (facts.source_name.empty()) {
        facts.source_name = "built-in player (no sound card found)";
        facts.player_is_input = true;
        facts.input.level_db = -48.0;
        facts.input.peak_db = -30.0;
    }
    return practice_view(session, facts);
}

inline PracticeView asking() { return view_of(3, std::nullopt); }
inline PracticeView answered_right() { return view_of(1, verdict(VerdictKind::right, 11.0)); }
inline PracticeView answered_wrong() {
    // String 3 of 12-x-10-12-x-x is G4, MIDI 67, string 4 C4, MIDI 60 (ISO 16 numbering by MIDI 1.0).
    return view_of(3, verdict(VerdictKind::wrong, 11.0, {wrong_note(3, 1, 67), wrong_note(4, -1, 60, 0.3)}));
}
inline PracticeView input_trouble() {
    PracticeFacts facts;
    facts.source_name = "line in (2 in, 48000 Hz)";
    facts.input.silent = true;
    return view_of(0, std::nullopt, facts);
}
inline PracticeView nothing_to_ask() {
    PracticeSession session;
    session.set_exercise({}, StepOrder::up, 1, {});
    PracticeFacts facts;
    facts.source_name = "built-in player (as chosen)";
    facts.nothing_why = "the neck holds no step of it: choose another root, stage or string set";
    return practice_view(session, facts);
}

}  // namespace gripline::test
