#include "cli/marking.h"

#include <doctest/doctest.h>

#include "dsp/strums.h"

using namespace gripline;

namespace {

StrumCase case_from(double from_s) {
    StrumCase strum;
    strum.from_s = from_s;
    strum.target.grip = Grip::parse("3x23xx").value();
    return strum;
}

dsp::StrumEvidence evidence(std::uint64_t strum, double onset_s, int step, bool last) {
    dsp::StrumEvidence out;
    out.strum = strum;
    out.onset_s = onset_s;
    out.heard_s = onset_s + 0.1;
    out.step = step;
    out.last = last;
    return out;
}

/// A rendered shell as a chain hears it, moved to onset_s.
void consider_shell(TakeMarker& marker, double onset_s) {
    static const auto shell = test::evidence_of(test::play({{.at_s = 0.5, .grip = "3x23xx", .ring_s = 0.6}}, 1.5, 48000), 48000);
    for (dsp::StrumEvidence each : shell) {
        each.strum = 2;
        each.heard_s += onset_s - each.onset_s;
        each.onset_s = onset_s;
        marker.consider(each);
    }
}

}  // namespace

TEST_CASE("a case gets the first strum at or after its from_s, and cases may share one") {
    const StrumCase early = case_from(0.0), late = case_from(1.0), late_too = case_from(1.4), never = case_from(9.0);
    TakeMarker marker({&late, &early, &never, &late_too});
    marker.consider(evidence(1, 0.5, 0, true));
    marker.consider(evidence(2, 1.5, 0, true));
    CHECK_FALSE(marker.done());
    const auto answers = marker.finish("");
    REQUIRE(answers.size() == 4);
    CHECK(answers[0].any_strum);
    CHECK(answers[1].any_strum);
    CHECK_FALSE(answers[2].any_strum);
    CHECK(answers[2].verdict.kind == VerdictKind::unheard);
    CHECK(answers[3].any_strum);
}

TEST_CASE("a first string that seems to sound a little before from_s still counts; one well before does not") {
    const StrumCase strum = case_from(1.0);
    TakeMarker near({&strum});
    near.consider(evidence(1, 1.0 - kOnsetSlack_s / 2, 0, true));
    near.pass(2.0);
    CHECK(near.done());
    TakeMarker far({&strum});
    far.consider(evidence(1, 1.0 - kOnsetSlack_s * 2, 0, true));
    far.pass(2.0);
    CHECK_FALSE(far.done());
    far.consider(evidence(2, 1.2, 0, true));
    far.pass(2.0);
    CHECK(far.done());
}

TEST_CASE("a knock just ahead of a strum gives way to it; a strum that comes later does not count any more") {
    // The evidence of evidence() is silence, which is no grip.
    const StrumCase strum = case_from(0.0);
    TakeMarker soon({&strum}), late({&strum}), alone({&strum});
    for (TakeMarker* marker : {&soon, &late, &alone}) {
        marker->consider(evidence(1, 0.5, 0, true));
        CHECK_FALSE(marker->done());
    }
    consider_shell(soon, 0.5 + 0.13);
    CHECK(soon.done());
    const auto heard = soon.finish("");
    CHECK(heard[0].verdict.kind == VerdictKind::right);
    CHECK(heard[0].verdict.onset_s == doctest::Approx(0.63).epsilon(0.01));
    consider_shell(late, 0.5 + 0.25);
    CHECK(late.done());
    CHECK(late.finish("")[0].verdict.kind == VerdictKind::unheard);
    alone.pass(0.6);
    CHECK_FALSE(alone.done());  // what begins at 0.68 is known at 0.88
    alone.pass(0.9);
    CHECK(alone.done());
    CHECK(alone.finish("the recording breaks off")[0].error == "the recording breaks off");  // within its strum
}

TEST_CASE("a take that breaks off leaves an error to cases without a strum, or whose strum it may have cut") {
    const StrumCase first = case_from(0.0), second = case_from(2.0);
    TakeMarker marker({&first, &second});
    marker.consider(evidence(1, 0.5, 0, true));
    const auto answers = marker.finish("the recording breaks off");
    CHECK(answers[0].error == "the recording breaks off");
    CHECK(answers[1].error == "the recording breaks off");
}

TEST_CASE("a strum that was under way before its case is not taken in its middle") {
    const StrumCase strum = case_from(1.0);
    TakeMarker marker({&strum});
    marker.consider(evidence(1, 0.5, 0, false));
    marker.consider(evidence(1, 1.1, 1, true));  // its onset was found anew, later: still the earlier strum
    CHECK_FALSE(marker.done());
}

TEST_CASE("the hypotheses behind a verdict are kept when asked for, their chances adding up to one at most") {
    const StrumCase strum = case_from(0.0);
    for (const std::size_t explain : {0U, 3U}) {
        TakeMarker marker({&strum}, explain);
        marker.consider(evidence(1, 0.5, 0, true));
        const auto answers = marker.finish("");
        REQUIRE(answers.size() == 1);
        CHECK(answers[0].leading.size() == explain);
        double sum = 0.0;
        for (std::size_t i = 0; i < answers[0].leading.size(); ++i) {
            sum += answers[0].leading[i].chance;
            if (i > 0) CHECK(answers[0].leading[i].chance <= answers[0].leading[i - 1].chance);
        }
        CHECK(sum <= 1.0 + 1e-6);
    }
}
