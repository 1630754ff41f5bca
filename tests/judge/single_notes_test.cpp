// Single notes, as in the notes of a scale along one string, through the whole chain on our own plucked strings: found, right when right, and neither a
// neighbour's nor an octave's. Which pitch a fret sounds is arithmetic of equal temperament (A4 = 440 Hz, MIDI 69).
#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "dsp/strums.h"
#include "judge/judge.h"

using namespace gripline;
using namespace gripline::test;

namespace {

constexpr int kLastFret = 15;

std::string on_string(int string, int fret) {
    Grip grip(6);
    grip.set(StringNumber(string), Fret(fret));
    return grip.text();
}

std::vector<dsp::StrumEvidence> plucked(int string, int fret) {
    return evidence_of(play({{.at_s = 0.6, .grip = on_string(string, fret), .spread_s = 0.0}}, 1.3));
}

Verdict judged(const std::string& asked, const std::vector<dsp::StrumEvidence>& evidence) {
    Judge judge;
    judge.ask({.grip = Grip::parse(asked).value(), .tuning = {}, .chord = {}, .bass = {}});
    for (const auto& e : evidence)
        if (auto verdict = judge.consider(e)) return *verdict;
    return {};
}

}  // namespace

TEST_CASE("every note of every string is found and called right, and a fret or an octave beside it is not") {
    int notes = 0, right = 0, faults = 0, named = 0, let_through = 0;
    for (int string = 1; string <= 6; ++string) {
        for (int fret = 0; fret <= kLastFret; ++fret) {
            CAPTURE(string);
            CAPTURE(fret);
            const auto evidence = plucked(string, fret);
            CHECK(!evidence.empty());
            ++notes;
            right += judged(on_string(string, fret), evidence).kind == VerdictKind::right ? 1 : 0;
            for (const int frets : {-12, -1, 1, 12}) {
                const int asked = fret - frets;
                if (asked < 0 || asked > kMaxFret) continue;
                const Verdict verdict = judged(on_string(string, asked), evidence);
                ++faults;
                let_through += verdict.kind == VerdictKind::right ? 1 : 0;
                named += !verdict.faults.empty() && verdict.faults.front().frets == frets ? 1 : 0;
            }
        }
    }
    MESSAGE("single notes right: " << right << " of " << notes << "; beside: " << let_through << " of " << faults << " let through, " << named << " named");
    CHECK(right == notes);
    CHECK(let_through == 0);
    CHECK(named >= (faults * 95) / 100);
}

TEST_CASE("a single note some frets off is that string's fault, told once, and no shifted grip") {
    for (const int frets : {-2, -1, 1, 2}) {
        CAPTURE(frets);
        const Verdict verdict = judged(on_string(3, 7), plucked(3, 7 + frets));
        REQUIRE(verdict.kind == VerdictKind::wrong);
        CHECK(verdict.faults.front().kind == FaultKind::wrong_note);
        CHECK(verdict.faults.front().frets == frets);
        CHECK(verdict.faults.front().probability > 0.5);
        for (const Fault& fault : verdict.faults) CHECK(fault.kind != FaultKind::shifted);
    }
}
