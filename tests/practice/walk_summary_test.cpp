// The whole of a walk. Expected means, deviations and slopes are worked by hand or follow from how the beats were laid.
#include "practice/walk_summary.h"

#include <doctest/doctest.h>

#include <cmath>

#include "practice/practice_fixture.h"

using namespace gripline;

namespace {

struct Walked {
    std::vector<WalkBeat> beats;
    std::vector<BeatResult> results;

    /// One beat more, a half second after the one before.
    void add(const std::string& chord, VerdictKind kind, double off_ms = 0.0, std::vector<Fault> faults = {}) {
        WalkBeat beat;
        const std::size_t at = beats.size();
        beat.bar = static_cast<int>(at / 4) + 1;
        beat.written_bar = static_cast<int>(at / 4) % 4;
        beat.beat = static_cast<int>(at % 4) + 1;
        beat.chord = chord;
        beat.at_s = 0.5 * static_cast<double>(at);
        beats.push_back(beat);
        BeatResult result;
        result.index = at;
        result.verdict = test::verdict(kind, beat.at_s + off_ms / 1000.0, std::move(faults));
        result.any_strum = kind != VerdictKind::unheard;
        if (result.any_strum) result.off_ms = off_ms;
        results.push_back(result);
    }
    [[nodiscard]] WalkSummary sum() const { return summarise_walk(beats, results, 0, 120.0); }
};

}  // namespace

TEST_CASE("mean and standard deviation of the time, over heard beats alone") {
    Walked walked;
    for (const double off_ms : {2.0, 4.0, 4.0, 4.0, 5.0, 5.0, 7.0, 9.0}) {
        walked.add("C7", VerdictKind::right, off_ms);
        walked.add("C7", VerdictKind::unheard);
    }
    const WalkSummary sum = walked.sum();
    CHECK(sum.beats == 16);
    CHECK(sum.right == 8);
    CHECK(sum.unheard == 8);
    CHECK(*sum.bias_ms == doctest::Approx(5.0));
    CHECK(*sum.spread_ms == doctest::Approx(std::sqrt(32.0 / 7.0)));  // squares about the mean: 9 + 1 + 1 + 1 + 0 + 0 + 4 + 16
}

TEST_CASE("a player who hurries has the slope that was laid, and no error about it") {
    Walked walked;
    for (int i = 0; i < 64; ++i) walked.add("C7", VerdictKind::right, -120.0 * 0.5 * i / 60.0);  // 120 ms a minute
    const WalkSummary sum = walked.sum();
    CHECK(*sum.drift_ms_per_minute == doctest::Approx(-120.0));
    CHECK(*sum.drift_error_ms_per_minute == doctest::Approx(0.0).scale(1.0));
    CHECK(sum.suggestion.starts_with("You hurry, 120 ms more"));
}

TEST_CASE("too few beats leave the time open") {
    CHECK_FALSE(Walked{}.sum().bias_ms.has_value());
    CHECK(Walked{}.sum().suggestion == "Nothing was asked.");
    Walked walked;
    walked.add("C7", VerdictKind::right, 10.0);
    CHECK(walked.sum().bias_ms.has_value());
    CHECK_FALSE(walked.sum().spread_ms.has_value());
    walked.add("C7", VerdictKind::right, 10.0);
    CHECK(walked.sum().spread_ms.has_value());
    CHECK_FALSE(walked.sum().drift_ms_per_minute.has_value());
}

TEST_CASE("faults are counted by their likeliest kind") {
    Walked walked;
    walked.add("C7", VerdictKind::wrong, 0.0, {test::wrong_note(4, 1, 50), test::wrong_note(3, 1, 55, 0.1)});
    walked.add("C7", VerdictKind::wrong, 0.0, {test::wrong_note(3, -1, 55)});
    walked.add("C7", VerdictKind::wrong);
    const WalkSummary sum = walked.sum();
    CHECK(sum.wrong == 3);
    CHECK(sum.faults[static_cast<std::size_t>(FaultKind::wrong_note)] == 2);
    CHECK(sum.faults[static_cast<std::size_t>(FaultKind::nothing)] == 1);
}

TEST_CASE("the worst changes: approach and landing count, repeats of a written change together, three at most") {
    Walked walked;
    const auto bar = [&walked](const std::string& chord, VerdictKind first, VerdictKind last) {
        walked.add(chord, first);
        walked.add(chord, VerdictKind::right);
        walked.add(chord, VerdictKind::right);
        walked.add(chord, last);
    };
    const auto right = VerdictKind::right, wrong = VerdictKind::wrong, unheard = VerdictKind::unheard;
    for (int chorus = 0; chorus < 2; ++chorus) {
        bar("Dm7", right, right);
        bar("G7", right, wrong);
        bar("C6", wrong, right);
        bar("A7", chorus == 0 ? unheard : right, right);
    }
    const WalkSummary sum = walked.sum();
    REQUIRE(sum.joints.size() == 2);
    CHECK(sum.joints[0].from == "G7");
    CHECK(sum.joints[0].to == "C6");
    CHECK(sum.joints[0].bar == 3);
    CHECK(sum.joints[0].beat == 1);
    CHECK(sum.joints[0].played == 2);
    CHECK(sum.joints[0].wrong == 4);
    CHECK(sum.joints[1].to == "A7");
    CHECK(sum.joints[1].unheard == 1);
    CHECK(sum.suggestion == "Loop the change from G7 to C6 at bar 3: --bars 2-3, approach and landing alone (--landing).");
}

TEST_CASE("how unsteady a change was: over its heard beats, from the player's own mean; left out altogether, nothing") {
    Walked walked;
    for (const double off_ms : {0.0, 0.0, 0.0}) walked.add("C7", VerdictKind::right, off_ms);
    walked.add("C7", VerdictKind::right, 80.0);
    walked.add("F7", VerdictKind::unheard);
    walked.add("F7", VerdictKind::unheard);
    walked.add("Bb7", VerdictKind::unheard);
    const WalkSummary sum = walked.sum();
    REQUIRE(sum.joints.size() == 2);
    CHECK(sum.joints[0].to == "Bb7");
    CHECK_FALSE(sum.joints[0].unsteady_ms.has_value());
    CHECK(*sum.joints[1].unsteady_ms == doctest::Approx(60.0));  // 80 against a mean of 20, over one heard beat
}

TEST_CASE("the suggestion speaks of what matters most") {
    Walked silent, other, hasty, lost, string, late, good;
    for (int i = 0; i < 16; ++i) {
        silent.add("C7", VerdictKind::unheard);
        other.add("C7", i == 3 ? VerdictKind::right : VerdictKind::wrong);
        hasty.add("C7", i % 3 == 0 ? VerdictKind::unheard : VerdictKind::right);
        lost.add("C7", i % 2 == 0 ? VerdictKind::wrong : VerdictKind::right);
        string.add("C7", i % 5 == 1 ? VerdictKind::wrong : VerdictKind::right, 0.0, i % 5 == 1 ? std::vector<Fault>{test::wrong_note(4, 1, 50)} : std::vector<Fault>{});
        late.add("C7", VerdictKind::right, 45.0);
        good.add("C7", VerdictKind::right, i % 2 == 0 ? 8.0 : -8.0);
    }
    CHECK(silent.sum().suggestion.starts_with("No beat was heard"));
    CHECK(other.sum().suggestion.starts_with("Nearly every beat was another grip"));
    CHECK(hasty.sum().suggestion.starts_with("Many beats were unheard: at 95 a minute"));
    CHECK(lost.sum().suggestion.starts_with("Take it slower: at 95 a minute"));
    CHECK(string.sum().suggestion.starts_with("String 4 was off on 3 of 16 beats"));
    CHECK(late.sum().suggestion.starts_with("You play 45 ms late, evenly"));
    CHECK(good.sum().suggestion == "All right and in time: try it at 125 a minute.");
}
