// The judge through the whole chain on our own plucked strings, whose notes and instants are known by construction. How well it does on recorded guitars is
// measured elsewhere; here it must keep its contract and be right on clean sound.
#include "judge/judge.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <memory>

#include "dsp/strums.h"

using namespace gripline;
using namespace gripline::test;

namespace {

const char* const kShells[] = {"8x89xx", "10-x-9-10-x-x", "12-x-10-12-x-x", "1x01xx", "3x23xx", "4x34xx", "6x55xx", "7x67xx"};

Target target_of(const std::string& grip) { return {.grip = Grip::parse(grip).value(), .tuning = {}, .chord = {}, .bass = {}}; }

std::vector<dsp::StrumEvidence> strummed(const std::string& grip, std::uint32_t which = 0) {
    return evidence_of(play({{.at_s = 0.6, .grip = grip, .spread_s = 0.01 + 0.005 * (which % 5), .down = which % 3 != 0}}, 1.3));
}

Verdict judged(const std::string& asked, const std::vector<dsp::StrumEvidence>& evidence) {
    Judge judge;
    judge.ask(target_of(asked));
    for (const auto& e : evidence)
        if (auto verdict = judge.consider(e)) return *verdict;
    return {};
}

}  // namespace

TEST_CASE("right shells of every stage of a scale are called right, and heard as what they are") {
    std::uint32_t which = 0;
    for (const char* grip : kShells) {
        CAPTURE(grip);
        const Verdict verdict = judged(grip, strummed(grip, which++));
        CHECK(verdict.kind == VerdictKind::right);
        CHECK(verdict.confidence >= 0.5);
        CHECK(verdict.faults.empty());
        REQUIRE(verdict.heard.size() == 3);
        const auto notes = Grip::parse(grip).value().notes(Tuning());
        for (std::size_t i = 0; i < 3; ++i) CHECK(verdict.heard[i] == notes[i].note);
        CHECK(verdict.bass == notes[0].note.pitch_class());
        CHECK(std::abs(verdict.onset_s - 0.6) < 0.01);
        CHECK(verdict.decided_s - verdict.onset_s <= 0.3);
        double sum = 0.0;
        for (const float share : verdict.strengths) sum += static_cast<double>(share);
        CHECK(std::abs(sum - 1.0) < 1e-3);
    }
}

TEST_CASE("a string one fret off is called wrong, and the string and the frets are named") {
    int named = 0, all = 0;
    std::uint32_t which = 0;
    for (const char* grip : kShells) {
        const Grip asked = Grip::parse(grip).value();
        for (const GripNote& note : asked.notes(Tuning())) {
            for (const int frets : {-1, 1}) {
                const int fret = note.fret.number() + frets;
                if (fret < 0) continue;
                Grip played = asked;
                played.set(note.string, Fret(fret));
                CAPTURE(grip);
                CAPTURE(note.string.number());
                CAPTURE(frets);
                const Verdict verdict = judged(grip, strummed(played.text(), which++));
                CHECK(verdict.kind == VerdictKind::wrong);
                ++all;
                if (verdict.faults.empty()) continue;
                const Fault& first = verdict.faults.front();
                named += first.kind == FaultKind::wrong_note && first.string == note.string && first.frets == frets ? 1 : 0;
            }
        }
    }
    CHECK(named >= (all * 95) / 100);
    MESSAGE("strings one fret off: " << named << " of " << all << " named exactly");
}

TEST_CASE("a grip shifted by a fret, another bass, and a missing string are called wrong") {
    for (const char* grip : kShells) {
        CAPTURE(grip);
        const auto shifted = Grip::parse(grip).value().slid(1).value();
        CHECK(judged(grip, strummed(shifted.text())).kind == VerdictKind::wrong);
    }
    CHECK(judged("8x89xx", strummed("3x23xx")).kind == VerdictKind::wrong);
    for (const int string : {6, 4, 3}) {
        Grip fewer = Grip::parse("8x89xx").value();
        fewer.set(StringNumber(string), std::nullopt);
        CAPTURE(string);
        CHECK(judged("8x89xx", strummed(fewer.text())).kind == VerdictKind::wrong);
    }
}

TEST_CASE("a hand that takes 0.12 s from the first string to the last is not told that the last one is missing; one that is, is told by 0.22 s") {
    for (const char* grip : kShells) {
        CAPTURE(grip);
        for (const bool down : {true, false}) {
            const Verdict raked = judged(grip, evidence_of(play({{.at_s = 0.6, .grip = grip, .spread_s = 0.12, .ring_s = 1.0, .down = down}}, 1.8)));
            CHECK(raked.kind == VerdictKind::right);
        }
    }
    const Verdict lacking = judged("3x23xx", evidence_of(play({{.at_s = 0.6, .grip = "3x2xxx"}}, 1.3)));
    REQUIRE(lacking.kind == VerdictKind::wrong);
    CHECK(lacking.faults[0].kind == FaultKind::missing_note);
    CHECK(lacking.faults[0].string == StringNumber(3));
    CHECK(lacking.decided_s - lacking.onset_s <= 0.22);
}

TEST_CASE("one verdict a strum; none before there is enough sound; at the last evidence always") {
    const auto evidence = strummed("3x23xx");
    REQUIRE(!evidence.empty());
    Judge judge;
    judge.ask(target_of("3x23xx"));
    int verdicts = 0;
    for (const auto& e : evidence) {
        const auto verdict = judge.consider(e);
        verdicts += verdict ? 1 : 0;
        if (verdict) CHECK(verdict->decided_s - verdict->onset_s >= JudgeConfig{}.settle_after_s - 1e-9);
    }
    CHECK(verdicts == 1);
    CHECK(!judge.consider(evidence.back()));  // this strum has its verdict
    judge.ask(target_of("3x23xx"));
    CHECK(judge.consider(evidence.back()).has_value());  // asked anew
    JudgeConfig never{.right_from = 0.5, .settle_after_s = 0.0};
    never.settle.fill({0.0, -1.0, 2.0});
    Judge strict(never);
    strict.ask(target_of("3x23xx"));
    for (const auto& e : evidence) CHECK(strict.consider(e).has_value() == e.last);
}

TEST_CASE("the leading hypotheses come likeliest first, their chances within 0 and 1 and no more than 1 together") {
    Judge judge;
    judge.ask(target_of("8x89xx"));
    for (const char* played : {"8x89xx", "8x99xx", "7x78xx"}) {
        const auto evidence = strummed(played);
        REQUIRE(!evidence.empty());
        (void)judge.verdict_now(evidence.back());
        const auto leading = judge.leading(8);
        REQUIRE(!leading.empty());
        CHECK(leading.size() <= 8);
        double sum = 0.0;
        for (std::size_t i = 0; i < leading.size(); ++i) {
            CHECK(leading[i].chance >= 0.0);
            if (i > 0) CHECK(leading[i].chance <= leading[i - 1].chance);
            sum += leading[i].chance;
        }
        CHECK(sum <= 1.0 + 1e-4);
    }
}

TEST_CASE("the same evidence gives the same verdict, and judges do not disturb one another") {
    const auto evidence = strummed("6x55xx");
    Judge a, b;
    a.ask(target_of("6x55xx"));
    b.ask(target_of("3x23xx"));
    const Verdict first = a.verdict_now(evidence.back());
    (void)b.verdict_now(evidence.back());
    const Verdict again = a.verdict_now(evidence.back());
    CHECK(first.confidence == again.confidence);
    CHECK(first.heard == again.heard);
}

TEST_CASE("silence as evidence is never right") {
    const auto silent = std::make_unique<dsp::StrumEvidence>();
    silent->strum = 1;
    silent->last = true;
    silent->heard_s = 0.3;
    Judge judge;
    judge.ask(target_of("8x89xx"));
    const Verdict verdict = judge.verdict_now(*silent);
    CHECK(verdict.kind != VerdictKind::right);
    CHECK(std::isfinite(verdict.confidence));
    CHECK(transcribe(*silent).kind == VerdictKind::unheard);
}

TEST_CASE("a chord in any voicing: right with its notes, wrong with another third or another bass than asked") {
    const auto any = [](std::vector<int> classes, std::optional<int> bass) {
        Target target;
        for (const int c : classes) target.chord.push_back(PitchClass(c));
        if (bass) target.bass = PitchClass(*bass);
        return target;
    };
    const auto verdict_of = [](const Target& target, const char* played) {
        const auto evidence = strummed(played);
        Judge judge;
        judge.ask(target);
        for (const auto& e : evidence)
            if (auto verdict = judge.consider(e)) return verdict->kind;
        return VerdictKind::unheard;
    };
    // C7 shell 8x89xx sounds C Bb E (trade: worked grips of the dominant-seventh family).
    CHECK(verdict_of(any({0, 10, 4}, 0), "8x89xx") == VerdictKind::right);
    CHECK(verdict_of(any({0, 10, 4}, std::nullopt), "8x89xx") == VerdictKind::right);
    CHECK(verdict_of(any({0, 10, 3}, 0), "8x89xx") == VerdictKind::wrong);
    CHECK(verdict_of(any({0, 10, 4}, 4), "8x89xx") == VerdictKind::wrong);
}
