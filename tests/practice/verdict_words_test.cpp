#include <doctest/doctest.h>

#include "practice/practice_fixture.h"
#include "practice/verdict_words.h"

using namespace gripline;
using test::step;
using test::verdict;
using test::wrong_note;

// Expected notes from the worked table of C dominant seventh, 6x55xx = Bb G C (common practice): MIDI 46 55 60.
namespace {
const PracticeStep kBbShell = step("C7", "Bb", "6x55xx");

Fault fault(FaultKind kind, int string, int frets = 0, int asked = -1, int heard = -1) {
    Fault made;
    made.kind = kind;
    if (string > 0) made.string = StringNumber(string);
    made.frets = frets;
    if (asked >= 0) made.asked = MidiNote(asked);
    if (heard >= 0) made.heard = MidiNote(heard);
    made.probability = 0.9;
    return made;
}
}  // namespace

TEST_CASE("Each kind of fault is told in the words of the trade") {
    CHECK(fault_words(wrong_note(4, -1, 55), kBbShell) == "String 4, one fret flat: Gb heard, G asked.");
    CHECK(fault_words(wrong_note(3, 2, 60), kBbShell) == "String 3, two frets sharp: D heard, C asked.");
    CHECK(fault_words(wrong_note(3, -12, 60), kBbShell) == "String 3, an octave low: C.");
    CHECK(fault_words(fault(FaultKind::missing_note, 3, 0, 60), kBbShell) == "String 3 silent: C missing.");
    CHECK(fault_words(fault(FaultKind::extra_note, 5, 0, -1, 45), kBbShell) == "Open string 5 rings: A.");
    CHECK(fault_words(fault(FaultKind::extra_note, 5, 0, -1, 51), kBbShell) == "String 5 sounds too: Eb.");
    CHECK(fault_words(fault(FaultKind::extra_note, 0, 0, -1, 51), kBbShell) == "One note too many: Eb.");
    CHECK(fault_words(fault(FaultKind::shifted, 0, 1), kBbShell) == "The whole grip one fret sharp.");
    CHECK(fault_words(fault(FaultKind::shifted, 0, -12), kBbShell) == "The whole grip an octave low.");
    CHECK(fault_words(fault(FaultKind::wrong_bass, 0, 0, 46, 43), kBbShell) == "Other bass: G heard lowest, Bb asked.");
    CHECK(fault_words(fault(FaultKind::nothing, 0), kBbShell) == "Something differs; what it is can't be told. Strum once more.");
}

TEST_CASE("A fault that lacks a string or a note is still a sentence") {
    CHECK(fault_words(fault(FaultKind::wrong_note, 0, 1), kBbShell) == "One string, one fret sharp.");
    CHECK(fault_words(fault(FaultKind::missing_note, 0), kBbShell) == "One string silent.");
    CHECK(fault_words(fault(FaultKind::extra_note, 9, 0, -1, 45), kBbShell) == "One note too many: A.");
    CHECK(fault_words(fault(FaultKind::wrong_bass, 0), kBbShell) == "Other bass: Bb asked.");
}

TEST_CASE("An open string of a capoed guitar is open at the capo") {
    PracticeStep capoed = kBbShell;
    capoed.capo = 2;
    CHECK(fault_words(fault(FaultKind::extra_note, 5, 0, -1, 47), capoed) == "Open string 5 rings: B.");
}

TEST_CASE("Right and wrong come first, then what else is likely, then the tuning") {
    CHECK(verdict_words(verdict(VerdictKind::right, 1.0), kBbShell).headline == "Right.");
    Verdict two = verdict(VerdictKind::wrong, 1.0, {wrong_note(4, -1, 55), wrong_note(3, 1, 60, 0.6), wrong_note(6, 1, 46, 0.1)});
    const VerdictWords words = verdict_words(two, kBbShell);
    CHECK(words.headline == "Wrong. String 4, one fret flat: Gb heard, G asked.");
    REQUIRE(words.details.size() == 1);
    CHECK(words.details[0] == "Also: string 3, one fret sharp: Db heard, C asked.");
    two.faults[1].probability = 0.3;
    CHECK(verdict_words(two, kBbShell).details[0] == "Or perhaps: string 3, one fret sharp: Db heard, C asked.");
    Verdict flat = verdict(VerdictKind::right, 1.0);
    flat.tuning_cents = -34.6;
    CHECK(verdict_words(flat, kBbShell).details[0] == "The guitar is 35 cents flat: tune it.");
}

TEST_CASE("Unheard and a wrong without a named fault say what to do") {
    CHECK(verdict_words(verdict(VerdictKind::unheard, 1.0), kBbShell).headline == "Not heard clearly.");
    CHECK(verdict_words(verdict(VerdictKind::unheard, 1.0), kBbShell).details.size() == 1);
    CHECK(verdict_words(verdict(VerdictKind::wrong, 1.0), kBbShell).headline == "Wrong. Something differs; what it is can't be told. Strum once more.");
}

TEST_CASE("Each string says what was asked and heard") {
    const auto silent = strings_heard(kBbShell, std::nullopt);
    REQUIRE(silent.size() == 6);
    CHECK(silent[0].string.number() == 6);
    CHECK(silent[0].asked == "Bb");
    CHECK(silent[0].heard.empty());
    CHECK_FALSE(silent[1].fret.has_value());

    const auto flat = strings_heard(kBbShell, verdict(VerdictKind::wrong, 1.0, {wrong_note(4, -1, 55)}));
    CHECK(flat[0].heard == "Bb");
    CHECK(flat[0].as_asked);
    CHECK(flat[2].heard == "Gb");
    CHECK_FALSE(flat[2].as_asked);
    CHECK(flat[3].heard == "C");

    const auto dead = strings_heard(kBbShell, verdict(VerdictKind::wrong, 1.0, {fault(FaultKind::missing_note, 3, 0, 60)}));
    CHECK(dead[3].heard.empty());
    CHECK_FALSE(dead[3].as_asked);

    const auto open = strings_heard(kBbShell, verdict(VerdictKind::wrong, 1.0, {fault(FaultKind::extra_note, 5, 0, -1, 45)}));
    CHECK(open[1].heard == "A");
    CHECK_FALSE(open[1].as_asked);
    CHECK(open[0].as_asked);

    const auto shifted = strings_heard(kBbShell, verdict(VerdictKind::wrong, 1.0, {fault(FaultKind::shifted, 0, 1)}));
    CHECK(shifted[0].heard == "B");
    CHECK(shifted[2].heard == "Ab");
    CHECK(shifted[3].heard == "Db");

    Verdict other_bass = verdict(VerdictKind::wrong, 1.0, {fault(FaultKind::wrong_bass, 0, 0, 46, 43)});
    other_bass.heard = {MidiNote(43), MidiNote(58), MidiNote(60)};
    const auto inverted = strings_heard(kBbShell, other_bass);
    CHECK(inverted[0].heard == "G");
    CHECK_FALSE(inverted[0].as_asked);
    CHECK(inverted[3].as_asked);
}
