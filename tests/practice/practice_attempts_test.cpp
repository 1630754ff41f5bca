// What a session hands to the history.
#include <doctest/doctest.h>

#include "practice/attempt_check.h"
#include "practice/course.h"
#include "practice/practice_session.h"
#include "practice/skill.h"

using namespace gripline;

namespace {

/// A session on C dominant-seventh shells whose strums the test makes up.
struct Session {
    PracticeSession session;
    double now_s = 1.0;

    explicit Session(const Course& course = {}) { session.set_exercise(make_exercise(course, {}).value(), course.order, 1, {now_s, now_s}); }
    void pass(double seconds) { session.pass({now_s += seconds, now_s}); }
    void strum(VerdictKind kind, double tuning_cents = 0.0, std::vector<Fault> faults = {}) {
        Verdict verdict;
        verdict.kind = kind;
        verdict.confidence = kind == VerdictKind::right ? 0.98 : 0.03;
        verdict.onset_s = now_s;
        verdict.decided_s = now_s + 0.2;
        verdict.tuning_cents = tuning_cents;
        verdict.heard = {MidiNote(45), MidiNote(55)};
        verdict.faults = std::move(faults);
        session.hear(verdict, {now_s, now_s});
    }
    std::vector<Attempt> take() {
        std::vector<Attempt> out;
        while (auto attempt = session.take_attempt()) out.push_back(*attempt);
        return out;
    }
};

Fault flat_on_string_three() {
    Fault fault;
    fault.kind = FaultKind::wrong_note;
    fault.string = StringNumber(3);
    fault.frets = -1;
    fault.probability = 0.9;
    return fault;
}

}  // namespace

TEST_CASE("A verdict becomes one attempt with all that was asked and heard, within the limits of the history") {
    Session s;
    const PracticeStep step = *s.session.asked();
    s.pass(1.5);
    s.strum(VerdictKind::wrong, 0.0, {flat_on_string_three()});
    auto attempts = s.take();
    REQUIRE(attempts.size() == 1);
    Attempt& a = attempts.front();
    CHECK(a.asking == Asking::shown);
    CHECK(a.family == Family::dominant_seventh);
    CHECK(a.root.text() == "C");
    CHECK(a.quality == "7");
    CHECK(a.stage == StageKind::shell);
    CHECK(a.strings.text() == "6-4-3");
    CHECK(a.chord == step.chord);
    CHECK(a.grip.text() == step.grip.text());
    CHECK(a.verdict == VerdictKind::wrong);
    CHECK(a.confidence == doctest::Approx(0.03));
    CHECK(a.heard == std::vector{MidiNote(45), MidiNote(55)});
    REQUIRE(a.faults.size() == 1);
    CHECK(a.faults.front().frets == -1);
    CHECK(a.answer_s.value() == doctest::Approx(1.5));
    CHECK(a.try_number == 1);
    CHECK(!a.helped);
    CHECK(!a.motion);
    a.player = "A";
    a.at_ms = 1'793'534'400'000;
    CHECK(!check(a));
}

TEST_CASE("Each step of each course says its own degree and place in the line") {
    for (const Family family : kSixthDiminishedFamilies) {
        for (const StageKind stage : {StageKind::scale, StageKind::drop2, StageKind::drop3, StageKind::shell}) {
            Course course;
            course.family = family;
            course.stage = stage;
            course.strings = string_sets(stage, 6).front();
            const auto exercise = make_exercise(course, {});
            REQUIRE(exercise.ok());
            for (const PracticeStep& step : exercise->steps) {
                CAPTURE(step.grip.text());
                CHECK(step.asked.chord == step.chord);
                CHECK(!step.asked.bass_degree.empty());
                // The degree, read back, gives the bass that sounds.
                const int semitones = Interval::parse(step.asked.bass_degree).value().semitones();
                CHECK(course.root.pitch_class().up(semitones) == step.notes().front().note.pitch_class());
                // Between the chord's own notes lie those of the diminished seventh a semitone below its root.
                CHECK((step.asked.place == Sounds::passing) == step.chord.ends_with("dim7"));
                CHECK(skill_of(step.asked).quality == chord_suffix(family));
            }
        }
    }
}

TEST_CASE("Tries are counted at one step, also when it is asked anew by hand, and begin again with the next") {
    Session s;
    s.strum(VerdictKind::wrong);
    s.pass(5.0);
    s.strum(VerdictKind::wrong);
    s.pass(5.0);
    s.session.repeat({s.now_s, s.now_s});
    s.pass(1.0);
    s.strum(VerdictKind::right);
    s.pass(2.0);
    s.pass(0.5);
    s.strum(VerdictKind::right);
    const auto attempts = s.take();
    REQUIRE(attempts.size() == 4);
    CHECK(attempts[0].try_number == 1);
    CHECK(attempts[1].try_number == 2);
    CHECK(attempts[2].try_number == 3);
    CHECK(attempts[2].answer_s.value() == doctest::Approx(1.0));
    CHECK(attempts[3].try_number == 1);
    CHECK(attempts[3].motion.value() == 1);  // the row rises
}

TEST_CASE("A strum into the words of the last verdict has no time to answer") {
    Session s;
    s.strum(VerdictKind::wrong);
    s.pass(1.0);
    s.strum(VerdictKind::wrong);
    const auto attempts = s.take();
    REQUIRE(attempts.size() == 2);
    CHECK(attempts[0].answer_s);
    CHECK(!attempts[1].answer_s);
}

TEST_CASE("Wrong answers from a guitar that turns out to be out of tune are never kept; from one that does not, they are") {
    for (const bool out : {true, false}) {
        CAPTURE(out);
        Session s;
        s.strum(VerdictKind::wrong, 45.0);
        s.pass(5.0);
        s.strum(VerdictKind::wrong, 45.0);
        CHECK(s.take().empty());  // in doubt
        s.pass(5.0);
        s.strum(VerdictKind::wrong, out ? 45.0 : 1.0);
        const auto kept = s.take();
        CHECK(kept.size() == (out ? 0U : 3U));
        CHECK(static_cast<std::size_t>(s.session.counts().wrong) == kept.size());
    }
    Session s;
    s.strum(VerdictKind::wrong, 45.0);
    s.session.close();
    CHECK(s.take().size() == 1);  // never settled: it counts, as it does on the screen
}

TEST_CASE("Hearing the grip helps only where the way of asking hides it") {
    for (const Asking asking : {Asking::shown, Asking::named}) {
        Session s;
        Exercise exercise = s.session.exercise();
        for (PracticeStep& step : exercise.steps) step.asked.asking = asking;
        s.session.set_exercise(exercise, StepOrder::up, 1, {1.0, 1.0});
        s.session.helped();
        s.strum(VerdictKind::right);
        CHECK(s.take().at(0).helped == (asking == Asking::named));
        s.pass(2.0);
        s.pass(0.5);
        s.strum(VerdictKind::right);
        CHECK(!s.take().at(0).helped);
    }
}
