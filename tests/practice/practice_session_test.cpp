#include <doctest/doctest.h>

#include "practice/practice_fixture.h"
#include "practice/practice_session.h"

using namespace gripline;
using test::verdict;
using test::wrong_note;

namespace {

/// Both clocks at the same reading.
Moment at(double seconds) { return {seconds, seconds}; }

PracticeSession started(StepOrder order = StepOrder::up) {
    PracticeSession session;
    session.set_exercise(test::four_shells(), order, 7, at(0.0));
    return session;
}

Verdict tuned(VerdictKind kind, double onset_s, double cents) {
    Verdict made = verdict(kind, onset_s, kind == VerdictKind::wrong ? std::vector<Fault>{wrong_note(4, 1, 52)} : std::vector<Fault>{});
    made.tuning_cents = cents;
    return made;
}

}  // namespace

TEST_CASE("A session without an exercise asks nothing and wants no strum") {
    PracticeSession session;
    CHECK(session.state() == PracticeState::nothing_to_ask);
    CHECK(session.asked() == nullptr);
    CHECK(session.next() == nullptr);
    CHECK_FALSE(session.wants(1.0));
    session.skip(at(1.0));
    session.back(at(1.0));
    session.repeat(at(1.0));
    session.pause(at(1.0));
    session.pass(at(9.0));
    CHECK(session.state() == PracticeState::nothing_to_ask);
}

TEST_CASE("After a right answer the next step is asked by itself") {
    PracticeSession session = started();
    CHECK(session.asked()->bass == "G");
    const auto askings = session.askings();
    session.hear(verdict(VerdictKind::right, 1.0), at(1.2));
    CHECK(session.state() == PracticeState::right_shown);
    CHECK(session.counts().right == 1);
    CHECK(session.next()->bass == "Ab");
    session.pass(at(2.39));
    CHECK(session.state() == PracticeState::right_shown);
    CHECK(session.askings() == askings);
    session.pass(at(2.41));
    CHECK(session.state() == PracticeState::listening);
    CHECK(session.asked()->bass == "Ab");
    CHECK(session.askings() == askings + 1);
    CHECK_FALSE(session.verdict().has_value());
}

TEST_CASE("After a wrong answer the words stay long enough to read, then the same step is asked again") {
    PracticeSession session = started();
    const auto askings = session.askings();
    session.hear(verdict(VerdictKind::wrong, 1.0, {wrong_note(4, 1, 52)}), at(1.2));
    CHECK(session.state() == PracticeState::wrong_shown);
    CHECK(session.counts().wrong == 1);
    session.pass(at(3.9));
    CHECK(session.state() == PracticeState::wrong_shown);
    session.pass(at(4.1));
    CHECK(session.state() == PracticeState::listening);
    CHECK(session.asked()->bass == "G");
    CHECK(session.verdict().has_value());
    // The judge is not told anew: it may hold a strum that began meanwhile.
    CHECK(session.askings() == askings);
}

TEST_CASE("More faults stay longer, up to two seconds more") {
    for (const auto& [faults, shown_s] : {std::pair(1, 2.8), std::pair(2, 3.8), std::pair(3, 4.8), std::pair(9, 4.8)}) {
        PracticeSession session = started();
        session.hear(verdict(VerdictKind::wrong, 1.0, std::vector<Fault>(static_cast<std::size_t>(faults), wrong_note(4, 1, 52))), at(1.2));
        session.pass(at(1.2 + shown_s - 0.01));
        CHECK(session.state() == PracticeState::wrong_shown);
        session.pass(at(1.2 + shown_s + 0.01));
        CHECK(session.state() == PracticeState::listening);
    }
}

TEST_CASE("A strum that comes too early after a wrong verdict is the ring; a later one is the next try, while the words still stand") {
    PracticeSession session = started();
    session.hear(verdict(VerdictKind::wrong, 1.0, {wrong_note(4, 1, 52)}), at(1.2));
    CHECK_FALSE(session.wants(1.21));
    CHECK_FALSE(session.wants(1.54));
    CHECK(session.wants(1.56));
    session.hear(verdict(VerdictKind::right, 1.3), at(1.5));
    CHECK(session.counts().right == 0);
    session.hear(verdict(VerdictKind::right, 1.8), at(2.0));
    CHECK(session.counts().right == 1);
    CHECK(session.state() == PracticeState::right_shown);
}

TEST_CASE("Nothing is wanted while a right verdict is shown, and a strum that began before the asking is not judged after it") {
    PracticeSession session = started();
    session.hear(verdict(VerdictKind::right, 1.0), at(1.2));
    CHECK_FALSE(session.wants(2.0));
    session.pass(at(2.5));
    CHECK_FALSE(session.wants(2.3));
    CHECK(session.wants(2.6));
}

TEST_CASE("A strum not heard clearly counts apart and leaves the step asked") {
    PracticeSession session = started();
    session.hear(verdict(VerdictKind::unheard, 1.0), at(1.2));
    CHECK(session.state() == PracticeState::unheard_shown);
    CHECK(session.counts().unheard == 1);
    CHECK(session.counts().wrong == 0);
    CHECK(session.wants(1.8));
    session.pass(at(3.3));
    CHECK(session.state() == PracticeState::listening);
    CHECK(session.asked()->bass == "G");
}

TEST_CASE("The tool's own sound is not taken for the player's, nor its tail in the room") {
    PracticeSession session = started();
    session.own_sound_until(3.0);
    CHECK_FALSE(session.wants(2.9));
    CHECK_FALSE(session.wants(3.2));
    CHECK(session.wants(3.31));
    session.own_sound_until(1.0);  // an earlier end does not shorten it
    CHECK_FALSE(session.wants(3.2));
}

TEST_CASE("Time in the sound and time on the player's clock may differ: strums count by the one, showing by the other") {
    PracticeSession session;
    session.set_exercise(test::four_shells(), StepOrder::up, 1, {1000.0, 4.0});
    CHECK_FALSE(session.wants(3.9));
    CHECK(session.wants(4.1));
    session.hear(verdict(VerdictKind::right, 5.0), {1001.5, 5.2});
    session.pass({1002.6, 6.3});
    CHECK(session.state() == PracticeState::right_shown);
    session.pass({1002.8, 6.5});
    CHECK(session.state() == PracticeState::listening);
    CHECK_FALSE(session.wants(6.4));
}

TEST_CASE("Repeat, skip and back ask at once and forget the verdict shown") {
    PracticeSession session = started();
    session.hear(verdict(VerdictKind::wrong, 1.0, {wrong_note(4, 1, 52)}), at(1.2));
    session.repeat(at(1.3));
    CHECK(session.state() == PracticeState::listening);
    CHECK_FALSE(session.verdict().has_value());
    CHECK(session.asked()->bass == "G");
    session.skip(at(1.4));
    CHECK(session.asked()->bass == "Ab");
    CHECK(session.place() == 1);
    session.back(at(1.5));
    session.back(at(1.6));
    CHECK(session.asked()->bass == "G");
    CHECK_FALSE(session.wants(1.55));
    CHECK(session.counts().wrong == 1);
}

TEST_CASE("Pause hears nothing and lets no time pass; going on asks the same step from then") {
    PracticeSession session = started();
    session.skip(at(0.5));
    session.pause(at(1.0));
    CHECK(session.state() == PracticeState::paused);
    CHECK_FALSE(session.wants(1.5));
    session.hear(verdict(VerdictKind::right, 1.5), at(1.7));
    CHECK(session.counts().right == 0);
    session.pass(at(60.0));
    CHECK(session.state() == PracticeState::paused);
    session.pause(at(61.0));
    CHECK(session.state() == PracticeState::listening);
    CHECK(session.asked()->bass == "Ab");
    CHECK_FALSE(session.wants(60.9));
    CHECK(session.wants(61.1));
}

TEST_CASE("A new exercise keeps the counts and a pause; an empty one leaves nothing to ask") {
    PracticeSession session = started();
    session.hear(verdict(VerdictKind::right, 1.0), at(1.2));
    session.pause(at(1.3));
    session.set_exercise(test::four_shells(), StepOrder::down, 1, at(2.0));
    CHECK(session.state() == PracticeState::paused);
    CHECK(session.asked()->bass == "E");
    session.set_exercise(Exercise{}, StepOrder::down, 1, at(3.0));
    CHECK(session.state() == PracticeState::nothing_to_ask);
    CHECK(session.counts().right == 1);
}

TEST_CASE("The third strum that finds the guitar more than 40 cents out is not counted, nor are the wrong ones before it") {
    PracticeSession session = started();
    session.hear(tuned(VerdictKind::wrong, 1.0, -42.0), at(1.2));
    session.hear(tuned(VerdictKind::wrong, 3.0, -45.0), at(3.2));
    CHECK(session.counts().wrong == 2);
    CHECK_FALSE(session.out_of_tune_cents().has_value());
    session.hear(tuned(VerdictKind::wrong, 5.0, -43.0), at(5.2));
    CHECK(session.state() == PracticeState::out_of_tune);
    CHECK(*session.out_of_tune_cents() == doctest::Approx(-43.0));
    CHECK(session.counts().wrong == 0);
    CHECK(session.wrong_in_a_row() == 0);
    CHECK_FALSE(session.verdict().has_value());
    session.pass(at(60.0));
    CHECK(session.state() == PracticeState::out_of_tune);
    CHECK(session.asked()->bass == "G");
    session.hear(tuned(VerdictKind::right, 61.0, -44.0), at(61.2));
    CHECK(session.state() == PracticeState::out_of_tune);
    CHECK(session.counts().right == 0);
    session.hear(tuned(VerdictKind::wrong, 63.0, -2.0), at(63.2));
    CHECK(session.state() == PracticeState::wrong_shown);
    CHECK(session.counts().wrong == 1);
}

TEST_CASE("Wrong answers in tune stay counted when the guitar goes out later, and strums not heard say nothing about it") {
    PracticeSession session = started();
    session.hear(tuned(VerdictKind::wrong, 1.0, -5.0), at(1.2));
    session.hear(tuned(VerdictKind::wrong, 3.0, 43.0), at(3.2));
    session.hear(tuned(VerdictKind::unheard, 5.0, 44.0), at(5.2));
    session.hear(tuned(VerdictKind::unheard, 7.0, 44.0), at(7.2));
    CHECK(session.state() == PracticeState::unheard_shown);
    session.hear(tuned(VerdictKind::wrong, 9.0, 44.0), at(9.2));
    session.hear(tuned(VerdictKind::wrong, 11.0, 45.0), at(11.2));
    CHECK(session.state() == PracticeState::out_of_tune);
    CHECK(session.counts().wrong == 1);
    CHECK(session.counts().unheard == 2);
}

TEST_CASE("A pause, another input or another step leaves the refusal; what was heard of the tuning before another input is forgotten") {
    PracticeSession session = started();
    for (int i = 0; i < 3; ++i) session.hear(tuned(VerdictKind::wrong, 1.0 + 2.0 * i, -43.0), at(1.2 + 2.0 * i));
    REQUIRE(session.state() == PracticeState::out_of_tune);
    session.skip(at(8.0));
    CHECK(session.state() == PracticeState::listening);
    session.hear(tuned(VerdictKind::wrong, 9.0, -43.0), at(9.2));
    CHECK(session.state() == PracticeState::out_of_tune);
    session.pause(at(10.0));
    CHECK(session.state() == PracticeState::paused);
    session.new_stream({11.0, 0.0});
    session.pause({11.0, 0.0});
    session.hear(tuned(VerdictKind::wrong, 1.0, -43.0), {12.0, 1.2});
    CHECK(session.state() == PracticeState::wrong_shown);
}
