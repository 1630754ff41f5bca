// Up when a chorus passes, down when it fails twice, never beyond 40 to 300.
#include "practice/tempo_steps.h"

#include <doctest/doctest.h>

using namespace gripline;

namespace {

constexpr ChorusResult kPassed{.beats = 10, .right = 9, .heard = 10, .in_time = 9};
constexpr ChorusResult kWrongNotes{.beats = 10, .right = 8, .heard = 10, .in_time = 10};
constexpr ChorusResult kOutOfTime{.beats = 10, .right = 10, .heard = 10, .in_time = 8};

BeatResult beat(VerdictKind kind, std::optional<double> off_ms) {
    BeatResult out;
    out.verdict.kind = kind;
    out.off_ms = off_ms;
    return out;
}

}  // namespace

TEST_CASE("A chorus passes when nine beats in ten are right and nine heard beats in ten are in time") {
    CHECK(kPassed.passes());
    CHECK_FALSE(kWrongNotes.passes());
    CHECK(kWrongNotes.time_passes());
    CHECK_FALSE(kOutOfTime.passes());
    CHECK(kOutOfTime.notes_pass());
    CHECK_FALSE(ChorusResult{}.passes());
}

TEST_CASE("In time is 60 ms up to 150 a minute, and less where a count is short: 30 ms at 300") {
    CHECK(in_time_ms(40.0) == 60.0);
    CHECK(in_time_ms(150.0) == 60.0);
    CHECK(in_time_ms(240.0) == doctest::Approx(37.5));
    CHECK(in_time_ms(300.0) == doctest::Approx(30.0));
}

TEST_CASE("Beats are counted: right ones, heard ones, those in time; early and late alike; unheard ones are neither") {
    const std::vector<BeatResult> beats = {beat(VerdictKind::right, -59.0), beat(VerdictKind::right, 61.0), beat(VerdictKind::wrong, 0.0), beat(VerdictKind::unheard, {})};
    const ChorusResult result = chorus_result(beats, 120.0);
    CHECK(result.beats == 4);
    CHECK(result.right == 2);
    CHECK(result.heard == 3);
    CHECK(result.in_time == 2);
}

TEST_CASE("Up at once, down at the second failure in a row, and a pass between forgives the first") {
    TempoSteps steps(100.0, 5.0);
    CHECK(steps.take(kPassed) == TempoStep::up);
    CHECK(steps.tempo_bpm() == 105.0);
    CHECK(steps.take(kOutOfTime) == TempoStep::same);
    CHECK(steps.take(kPassed) == TempoStep::up);
    CHECK(steps.take(kWrongNotes) == TempoStep::same);
    CHECK(steps.take(kOutOfTime) == TempoStep::down);
    CHECK(steps.tempo_bpm() == 105.0);
    CHECK(steps.take(kWrongNotes) == TempoStep::same);  // counted anew at the slower tempo
    CHECK(steps.take(kWrongNotes) == TempoStep::down);
    CHECK(steps.tempo_bpm() == 100.0);
}

TEST_CASE("40 and 300 are the ends; a tempo set by hand forgets failures; no steps, no change") {
    TempoSteps top(298.0, 10.0);
    CHECK(top.take(kPassed) == TempoStep::up);
    CHECK(top.tempo_bpm() == 300.0);
    CHECK(top.take(kPassed) == TempoStep::same);
    TempoSteps bottom(20.0, 10.0);
    CHECK(bottom.tempo_bpm() == 40.0);
    CHECK(bottom.take(kWrongNotes) == TempoStep::same);
    CHECK(bottom.take(kWrongNotes) == TempoStep::same);
    CHECK(bottom.tempo_bpm() == 40.0);
    TempoSteps hand(100.0, 10.0);
    CHECK(hand.take(kWrongNotes) == TempoStep::same);
    hand.set_tempo_bpm(120.0);
    CHECK(hand.take(kWrongNotes) == TempoStep::same);
    CHECK(hand.tempo_bpm() == 120.0);
    TempoSteps still(100.0, 0.0);
    CHECK(still.take(kPassed) == TempoStep::same);
}

TEST_CASE("Steps end at the limit, and a tempo set by hand above it is kept") {
    TempoSteps steps(118.0, 5.0, 121.0);
    CHECK(steps.take(kPassed) == TempoStep::up);
    CHECK(steps.tempo_bpm() == 121.0);
    CHECK(steps.take(kPassed) == TempoStep::same);
    CHECK(steps.tempo_bpm() == 121.0);
    steps.set_tempo_bpm(150.0);
    CHECK(steps.take(kPassed) == TempoStep::same);
    CHECK(steps.tempo_bpm() == 150.0);
    CHECK(steps.take(kWrongNotes) == TempoStep::same);
    CHECK(steps.take(kWrongNotes) == TempoStep::down);
    CHECK(steps.tempo_bpm() == 145.0);
}
