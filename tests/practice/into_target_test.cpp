// Approach and target asked together, in time.
#include <doctest/doctest.h>

#include "practice/attempt_check.h"
#include "practice/exercise_asking.h"
#include "practice/planned_steps.h"
#include "practice/practice_session.h"

using namespace gripline;

namespace {

const PracticeStep& into(const Exercise& exercise, const std::string& target, From from) {
    for (const PracticeStep& step : exercise.steps)
        if (step.given->grip.text() == target && step.asked.from == from) return step;
    FAIL("no approach into " << target);
    return exercise.steps.front();
}

BeatResult beat(VerdictKind kind, std::optional<double> off_ms, double tuning_cents = 0.0) {
    BeatResult out;
    out.verdict.kind = kind;
    out.verdict.tuning_cents = tuning_cents;
    out.any_strum = off_ms.has_value();
    out.off_ms = off_ms;
    return out;
}

Exercise exercise_into(const Course& course = {}) { return asked_in_way(make_into_target(course, {}, 440.0).value(), Asking::into_target, course.order).value(); }

struct Session {
    PracticeSession session;
    double now_s = 1.0;
    Session() { session.set_exercise(exercise_into(), StepOrder::up, 1, {now_s, now_s}); }
    void pair(const PairResult& pair) { session.hear_pair(pair, {now_s, now_s}); }
    void pass(double seconds) { session.pass({now_s += seconds, now_s}); }
    std::vector<Attempt> take() {
        std::vector<Attempt> out;
        while (auto attempt = session.take_attempt()) out.push_back(*attempt);
        return out;
    }
};

}  // namespace

TEST_CASE("Into C7: B7 from below, Db7 from above, each the target's grip slid one fret (common practice, no source)") {
    const Exercise exercise = exercise_into();
    const PracticeStep& below = into(exercise, "8x89xx", From::below);
    CHECK(below.chord == "B7");
    CHECK(below.grip.text() == "7x78xx");
    CHECK(below.given->chord == "C7");
    const PracticeStep& above = into(exercise, "3x23xx", From::above);
    CHECK(above.chord == "Db7");
    CHECK(above.grip.text() == "4x34xx");
    CHECK(above.given->bass == "G");
    for (const PracticeStep& step : exercise.steps) {
        CHECK(step.asked.place == Sounds::approach);
        CHECK(step.asked.root.text() == "C");
        CHECK(step.asked.quality == "7");
        CHECK(step.grip.slid(step.asked.from == From::below ? 1 : -1).value() == step.given->grip);
        CHECK(given_for(step) == step.given.get());
    }
    CHECK(exercise.steps.size() == 8);  // four chord tones, two sides
}

TEST_CASE("In every key and family each approach leads a semitone into a chord of the scale") {
    for (const Family family : kSixthDiminishedFamilies) {
        for (int key = 0; key < 12; ++key) {
            Course course;
            course.family = family;
            course.root = usual_root(PitchClass(key));
            const Exercise exercise = exercise_into(course);
            CHECK(exercise.steps.size() >= 4);
            for (const PracticeStep& step : exercise.steps) {
                CHECK(step.given->asked.place == Sounds::chord);
                const int semitones = step.given->notes().front().note.number() - step.notes().front().note.number();
                CHECK(semitones == (step.asked.from == From::below ? 1 : -1));
            }
        }
    }
    Course scale;
    scale.stage = StageKind::scale;
    scale.strings = string_sets(StageKind::scale, 6).front();
    CHECK(!make_into_target(scale, {}, 440.0));
}

TEST_CASE("A right grip too early or too late is wrong without a fault: 60 ms at 100 counts a minute, less at fast tempos") {
    for (const double off_ms : {-61.0, 61.0}) {
        CHECK(verdict_in_time(beat(VerdictKind::right, off_ms), 100.0).kind == VerdictKind::wrong);
        CHECK(verdict_in_time(beat(VerdictKind::right, off_ms * 0.9), 100.0).kind == VerdictKind::right);
    }
    CHECK(verdict_in_time(beat(VerdictKind::right, 50.0), 240.0).kind == VerdictKind::wrong);  // 15 % of 250 ms
    CHECK(kind_of({beat(VerdictKind::right, 5.0), beat(VerdictKind::right, -5.0), 100.0}) == VerdictKind::right);
    CHECK(kind_of({beat(VerdictKind::right, 5.0), beat(VerdictKind::unheard, {}), 100.0}) == VerdictKind::wrong);
    CHECK(kind_of({beat(VerdictKind::unheard, {}), beat(VerdictKind::unheard, {}), 100.0}) == VerdictKind::unheard);
}

TEST_CASE("Both strums are told, the worse one first") {
    const Exercise exercise = exercise_into();
    const PracticeStep& step = into(exercise, "8x89xx", From::below);
    CHECK(pair_words({beat(VerdictKind::right, -12.2), beat(VerdictKind::right, 0.3), 100.0}, step).headline == "Right and in time: approach 12 ms early, target on the beat.");
    const auto late = pair_words({beat(VerdictKind::right, 5.0), beat(VerdictKind::right, 140.0), 100.0}, step);
    CHECK(late.headline == "Target: right notes, not in time, 140 ms late.");
    CHECK(late.details.at(0) == "Approach: right notes, 5 ms late.");
    PairResult flat{beat(VerdictKind::wrong, 3.0), beat(VerdictKind::unheard, {}), 100.0};
    Fault fault;
    fault.kind = FaultKind::wrong_note;
    fault.string = StringNumber(3);
    fault.frets = -1;
    fault.asked = MidiNote(63);
    fault.heard = MidiNote(62);
    fault.probability = 0.9;
    flat.approach.verdict.faults = {fault};
    const auto words = pair_words(flat, step);
    CHECK(words.headline.starts_with("Approach, 3 ms late: "));
    CHECK(words.headline.find("tring 3, one fret flat") != std::string::npos);
    CHECK(words.details.at(0) == "Target: no strum heard near its count.");
}

TEST_CASE("Each asking makes two attempts of their own way of asking, with side, tempo and time off the beat") {
    Session s;
    const PracticeStep step = *s.session.asked();
    REQUIRE(step.asked.from);
    s.pair({beat(VerdictKind::right, 4.0), beat(VerdictKind::right, 95.0), 100.0});
    CHECK(s.session.state() == PracticeState::wrong_shown);
    s.pass(8.0);
    CHECK(s.session.state() == PracticeState::listening);
    s.pair({beat(VerdictKind::right, 4.0), beat(VerdictKind::right, -9.0), 110.0});
    CHECK(s.session.state() == PracticeState::right_shown);
    CHECK(s.session.counts().right == 1);
    CHECK(s.session.counts().wrong == 1);
    auto kept = s.take();
    REQUIRE(kept.size() == 4);
    for (std::size_t i = 0; i < kept.size(); ++i) {
        Attempt& a = kept[i];
        CHECK(a.asking == Asking::into_target);
        CHECK(a.quality == "7");
        CHECK(a.root.text() == "C");
        CHECK(a.try_number == (i < 2 ? 1 : 2));
        CHECK(a.tempo_bpm == (i < 2 ? 100.0 : 110.0));
        CHECK(a.from == (i % 2 == 0 ? step.asked.from : std::nullopt));
        CHECK(a.place == (i % 2 == 0 ? Sounds::approach : Sounds::chord));
        CHECK(!a.answer_s);
        a.player = "A";
        a.at_ms = 1'793'534'400'000;
        CHECK(!check(a));
    }
    CHECK(kept[1].verdict == VerdictKind::wrong);
    CHECK(kept[1].faults.empty());
    CHECK(kept[1].off_ms == 95.0);
    CHECK(kept[2].verdict == VerdictKind::right);
}

TEST_CASE("A guitar out of tune is not judged into the target either, and what it missed just before is taken back") {
    Session s;
    for (int i = 0; i < 2; ++i) {
        s.pair({beat(VerdictKind::wrong, 4.0, 45.0), beat(VerdictKind::wrong, 4.0, 45.0), 100.0});
        s.pass(8.0);
    }
    CHECK(s.session.state() == PracticeState::out_of_tune);
    CHECK(s.session.counts().wrong == 0);
    CHECK(s.take().empty());
    s.pair({beat(VerdictKind::right, 4.0, 2.0), beat(VerdictKind::right, 4.0, 2.0), 100.0});
    CHECK(s.session.state() == PracticeState::right_shown);
    const auto kept = s.take();
    REQUIRE(kept.size() == 2);
    CHECK(kept[0].try_number == 1);
}

TEST_CASE("After two misses the approach is shown, and what follows counts as helped") {
    Session s;
    CHECK(!s.session.grip_shown());
    for (int i = 0; i < 2; ++i) {
        s.pair({beat(VerdictKind::wrong, 4.0), beat(VerdictKind::right, 4.0), 100.0});
        s.pass(8.0);
    }
    CHECK(s.session.grip_shown());
    (void)s.take();
    s.pair({beat(VerdictKind::right, 4.0), beat(VerdictKind::right, 4.0), 100.0});
    const auto kept = s.take();
    REQUIRE(kept.size() == 2);
    CHECK(kept[0].helped);
    CHECK(kept[0].try_number == 3);
}

TEST_CASE("A planned pool into the target holds approaches alone, with their targets; from the next step neighbours of one scale") {
    Pins pins;
    pins.qualities = {"7"};
    pins.from = From::above;
    const auto pool = make_pool({}, {}, 440.0, pins, Asking::into_target);
    REQUIRE(pool);
    CHECK(pool->steps.size() > 30);
    for (const PracticeStep& step : pool->steps) {
        CHECK(step.asked.from == From::above);
        CHECK(step.asked.asking == Asking::into_target);
        REQUIRE(given_for(step) != nullptr);
        CHECK(given_for(step)->asked.quality == "7");
    }
    const auto beside = make_pool({}, {}, 440.0, {}, Asking::next_step);
    REQUIRE(beside);
    int up = 0;
    for (const PracticeStep& step : beside->steps) {
        REQUIRE(given_for(step) != nullptr);
        CHECK(given_for(step)->asked.root.text() == step.asked.root.text());
        CHECK(given_for(step)->asked.family == step.asked.family);
        CHECK(step.asked.place != Sounds::approach);
        const bool rises = step.notes().front().note > given_for(step)->notes().front().note;
        CHECK(rises == (step.asked.motion == 1));
        up += rises;
    }
    CHECK(up > static_cast<int>(beside->steps.size()) / 4);
    CHECK(up < 3 * static_cast<int>(beside->steps.size()) / 4);
    CHECK(!make_pool({}, {}, 440.0, pins, Asking::next_step));  // a step of a scale is no approach
}
