// Strums to beats. The evidence is that of our own plucked strings, stamped anew so that it lies where each test wants it.
#include "practice/walk_along.h"

#include <doctest/doctest.h>

#include <cmath>
#include <map>

#include "dsp/strums.h"

using namespace gripline;

namespace {

using Heard = std::vector<dsp::StrumEvidence>;

/// The evidence of one strum of the grip, as if its first string sounded at 0.
const Heard& sound_of(const std::string& grip) {
    static std::map<std::string, Heard> known;
    Heard& strum = known[grip];
    if (strum.empty()) {
        strum = test::evidence_of(test::play({{.at_s = 0.6, .grip = grip}}, 1.3));
        const double onset_s = strum.front().onset_s;
        for (auto& e : strum) {
            e.onset_s -= onset_s;
            e.heard_s -= onset_s;
        }
    }
    return strum;
}

/// A knock: as loud as a strum, with nothing in its spectra.
const Heard& knock() {
    static const Heard strum = [] {
        Heard out = sound_of("3x23xx");
        for (auto& e : out) {
            e.before = e.attack = e.body = e.late = {};
            e.earlier = e.later = {};
        }
        return out;
    }();
    return strum;
}

std::vector<WalkBeat> beats_at(double tempo_bpm, const std::vector<std::string>& grips, double start_s = 1.0) {
    std::vector<WalkBeat> out;
    for (std::size_t i = 0; i < grips.size(); ++i) {
        WalkBeat beat;
        beat.bar = static_cast<int>(i / 4) + 1;
        beat.beat = static_cast<int>(i % 4) + 1;
        beat.at_s = start_s + static_cast<double>(i) * 60.0 / tempo_bpm;
        beat.target.grip = Grip::parse(grips[i]).value();
        out.push_back(beat);
    }
    return out;
}

/// Feeds strums one after the other; each new one ends the one before, as in the chain.
class Player {
public:
    explicit Player(WalkAlong& walk) : walk_(walk) {}
    void strum(double at_s, const Heard& sound) {
        ++strum_;
        for (auto e : sound) {
            e.strum = strum_;
            e.onset_s += at_s;
            e.heard_s += at_s;
            walk_.consider(e);
            collect();
        }
    }
    std::vector<BeatResult> finish(double at_s) {
        walk_.finish(at_s);
        collect();
        return results_;
    }
    void collect() {
        while (auto result = walk_.next()) results_.push_back(*result);
    }
    [[nodiscard]] std::size_t given() const { return results_.size(); }

private:
    WalkAlong& walk_;
    std::uint64_t strum_ = 0;
    std::vector<BeatResult> results_;
};

const std::vector<std::string> kGrips{"3x23xx", "4x34xx", "6x55xx", "7x67xx"};

}  // namespace

TEST_CASE("early and late strums go to their beats, with the milliseconds they are off") {
    WalkAlong walk(beats_at(120, kGrips), 0.5);
    Player player(walk);
    const double off_s[] = {-0.2, 0.0, 0.03, 0.24};
    for (std::size_t i = 0; i < 4; ++i) player.strum(1.0 + 0.5 * static_cast<double>(i) + off_s[i], sound_of(kGrips[i]));
    const auto results = player.finish(10.0);
    REQUIRE(results.size() == 4);
    CHECK(walk.done());
    CHECK(walk.strums_between() == 0);
    for (std::size_t i = 0; i < 4; ++i) {
        CHECK(results[i].index == i);
        CHECK(results[i].verdict.kind == VerdictKind::right);
        REQUIRE(results[i].off_ms.has_value());
        CHECK(*results[i].off_ms == doctest::Approx(1000.0 * off_s[i]).epsilon(0.01).scale(1.0));
    }
}

TEST_CASE("a beat left out is unheard, has no time, and doesn't shift the others") {
    WalkAlong walk(beats_at(120, kGrips), 0.5);
    Player player(walk);
    for (const std::size_t i : {0U, 1U, 3U}) player.strum(1.0 + 0.5 * static_cast<double>(i), sound_of(kGrips[i]));
    const auto results = player.finish(10.0);
    REQUIRE(results.size() == 4);
    CHECK(results[2].verdict.kind == VerdictKind::unheard);
    CHECK_FALSE(results[2].any_strum);
    CHECK_FALSE(results[2].off_ms.has_value());
    for (const std::size_t i : {0U, 1U, 3U}) CHECK(results[i].verdict.kind == VerdictKind::right);
}

TEST_CASE("another grip than the beat's is wrong there, even if the next beat asks it") {
    WalkAlong walk(beats_at(120, kGrips), 0.5);
    Player player(walk);
    player.strum(1.0, sound_of("3x23xx"));
    player.strum(1.5, sound_of("6x55xx"));
    player.strum(2.0, sound_of("6x55xx"));
    player.strum(2.5, sound_of("7x67xx"));
    const auto results = player.finish(10.0);
    REQUIRE(results.size() == 4);
    CHECK(results[1].verdict.kind == VerdictKind::wrong);
    CHECK(results[2].verdict.kind == VerdictKind::right);
}

TEST_CASE("of two strums on a beat the first counts, and the second is told of") {
    WalkAlong walk(beats_at(60, kGrips), 1.0);
    Player player(walk);
    player.strum(0.9, sound_of("1x01xx"));
    player.strum(1.3, sound_of("3x23xx"));
    player.strum(2.0, sound_of("4x34xx"));
    player.strum(2.4, sound_of("6x55xx"));
    const auto results = player.finish(10.0);
    CHECK(results[0].verdict.kind == VerdictKind::wrong);
    CHECK(*results[0].off_ms == doctest::Approx(-100.0).epsilon(0.01));
    CHECK(results[1].verdict.kind == VerdictKind::right);
    CHECK(walk.strums_between() == 2);
}

TEST_CASE("a knock before the strum leaves the beat to the strum") {
    WalkAlong walk(beats_at(60, kGrips), 1.0);
    Player player(walk);
    player.strum(0.7, knock());
    player.strum(1.05, sound_of("3x23xx"));
    player.strum(2.05, knock());
    const auto results = player.finish(10.0);
    CHECK(results[0].verdict.kind == VerdictKind::right);
    CHECK(*results[0].off_ms == doctest::Approx(50.0).epsilon(0.01));
    CHECK(results[1].verdict.kind == VerdictKind::unheard);
    CHECK_FALSE(results[1].off_ms.has_value());
}

TEST_CASE("at 240 a minute a beat reaches 125 ms to each side") {
    WalkAlong walk(beats_at(240, kGrips), 0.25);
    Player player(walk);
    player.strum(1.0 - 0.120, sound_of(kGrips[0]));
    player.strum(1.25 + 0.120, sound_of(kGrips[1]));
    player.strum(1.75 - 0.100, sound_of(kGrips[3]));
    const auto results = player.finish(10.0);
    REQUIRE(results.size() == 4);
    CHECK(results[0].verdict.kind == VerdictKind::right);
    CHECK(results[1].verdict.kind == VerdictKind::right);
    CHECK(results[2].verdict.kind == VerdictKind::unheard);
    CHECK(results[3].verdict.kind == VerdictKind::right);
    CHECK(*results[3].off_ms == doctest::Approx(-100.0).epsilon(0.01));
}

TEST_CASE("strums outside every beat are passed over: before the first, after the last, and where the line rests") {
    auto beats = beats_at(120, {"3x23xx", "4x34xx"});
    beats[1].at_s = 3.0;  // three counts of rest
    WalkAlong walk(beats, 0.5);
    Player player(walk);
    player.strum(0.5, sound_of("3x23xx"));
    player.strum(1.0, sound_of("3x23xx"));
    player.strum(2.0, sound_of("3x23xx"));
    player.strum(3.0, sound_of("4x34xx"));
    player.strum(4.0, sound_of("4x34xx"));
    const auto results = player.finish(10.0);
    REQUIRE(results.size() == 2);
    CHECK(results[0].verdict.kind == VerdictKind::right);
    CHECK(results[1].verdict.kind == VerdictKind::right);
    CHECK(walk.strums_between() == 1);
}

TEST_CASE("live, a beat is given as soon as it is settled or its time has run out, in order") {
    WalkAlong walk(beats_at(120, kGrips), 0.5);
    Player player(walk);
    walk.pass(1.5);
    player.collect();
    CHECK(player.given() == 0);  // a strum at 1.24 might still be on its way through the chain
    walk.pass(1.6);
    player.collect();
    CHECK(player.given() == 1);
    player.strum(1.55, sound_of(kGrips[1]));
    CHECK(player.given() == 2);
    CHECK_FALSE(walk.done());
}

TEST_CASE("beats that the sound does not reach are not given; a strum met in its middle is nobody's") {
    WalkAlong walk(beats_at(120, kGrips), 0.5);
    Player player(walk);
    Heard middle(sound_of(kGrips[0]).begin() + 1, sound_of(kGrips[0]).end());
    player.strum(1.0, middle);
    player.strum(1.5, sound_of(kGrips[1]));
    const auto results = player.finish(2.1);
    REQUIRE(results.size() == 2);
    CHECK(results[0].verdict.kind == VerdictKind::unheard);
    CHECK(results[1].verdict.kind == VerdictKind::right);
    CHECK_FALSE(walk.done());
}

TEST_CASE("no beats: nothing to do") {
    WalkAlong walk({}, 0.5);
    CHECK(walk.done());
    Player player(walk);
    player.strum(1.0, sound_of("3x23xx"));
    CHECK(player.finish(2.0).empty());
}

TEST_CASE("Beats that are moved in the stream take their strums where they lie then, and are unheard no sooner") {
    for (const double by_s : {-0.4, 0.4}) {
        CAPTURE(by_s);
        WalkAlong walk(beats_at(120, kGrips), 0.5);
        walk.pass(1.2);
        CHECK_FALSE(walk.next().has_value());
        walk.shift(by_s);
        CHECK_FALSE(walk.next().has_value());
        Player player(walk);
        for (std::size_t i = 0; i < 4; ++i) player.strum(1.02 + 0.5 * static_cast<double>(i) + by_s, sound_of(kGrips[i]));
        const auto results = player.finish(10.0);
        REQUIRE(results.size() == 4);
        for (const BeatResult& result : results) {
            CHECK(result.verdict.kind == VerdictKind::right);
            CHECK(*result.off_ms == doctest::Approx(20.0).epsilon(0.01));
        }
    }
}
