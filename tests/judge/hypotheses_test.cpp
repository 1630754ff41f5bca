// What may have been played when a grip was asked. The rule of right (same pitch classes, same bass pitch class) is checked on every hypothesis by its own
// arithmetic.
#include "judge/hypotheses.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <set>
#include <string>

using namespace gripline;

namespace {

std::vector<Hypothesis> of(const char* fret_string, const Tuning& tuning = Tuning(), int capo = 0) {
    return hypotheses_for(Grip::parse(fret_string, tuning.strings()).value(), tuning, capo);
}

/// The rule by itself.
bool sounds_right(const Hypothesis& h, const Hypothesis& asked) {
    std::set<int> a, b;
    for (const int note : h.notes.notes()) a.insert(note % 12);
    for (const int note : asked.notes.notes()) b.insert(note % 12);
    return !a.empty() && a == b && h.notes.lowest() % 12 == asked.notes.lowest() % 12;
}

int count(const std::vector<Hypothesis>& all, FaultKind kind) {
    return static_cast<int>(std::count_if(all.begin(), all.end(), [&](const Hypothesis& h) { return h.fault == kind; }));
}

const char* const kGrips[] = {"8x89xx", "10-x-9-10-x-x", "1x01xx", "3x23xx", "x32010", "320003", "8x898x", "xx2010"};

}  // namespace

TEST_CASE("a note set keeps its notes in order, without doubles, at most eight") {
    NoteSet set;
    for (const int note : {60, 48, 55, 48, 64, 40, 67, 72, 76, 79}) set.insert(note);
    CHECK(set.size() == 8);
    CHECK(set.lowest() == 40);
    CHECK(std::is_sorted(set.notes().begin(), set.notes().end()));
    set.erase(40);
    CHECK(!set.contains(40));
    CHECK(set.lowest() == 48);
    set.erase(41);
    CHECK(set.size() == 7);
}

TEST_CASE("the grip as asked stands first, nothing stands last, and right is what the rule says") {
    for (const char* grip : kGrips) {
        CAPTURE(grip);
        const auto all = of(grip);
        REQUIRE(all.size() > 10);
        CHECK(!all.front().fault);
        CHECK(all.front().right);
        CHECK(all.back().fault == FaultKind::nothing);
        CHECK(all.back().notes.size() == 0);
        CHECK(!all.back().right);
        for (const Hypothesis& h : all) CHECK(h.right == (!h.fault || sounds_right(h, all.front())));
    }
}

TEST_CASE("every string of a shell one, two and three frets off either way, each missing, the grip shifted") {
    const auto all = of("8x89xx");
    CHECK(count(all, FaultKind::wrong_note) == 18);
    CHECK(count(all, FaultKind::missing_note) == 3);
    CHECK(count(all, FaultKind::shifted) >= 6);
    for (const int string : {6, 4, 3})
        for (const int frets : {-3, -2, -1, 1, 2, 3})
            CHECK(std::count_if(all.begin(), all.end(), [&](const Hypothesis& h) { return h.fault == FaultKind::wrong_note && h.string == string && h.frets == frets; }) == 1);
    // The open strings that the shell leaves out: A2 B3 E4 (standard tuning, MIDI 45 59 64).
    std::set<int> extra;
    for (const Hypothesis& h : all)
        if (h.fault == FaultKind::extra_note && h.notes.size() == 4)
            for (const int note : h.notes.notes())
                if (!all.front().notes.contains(note)) extra.insert(note);
    CHECK(extra.contains(45));
    CHECK(extra.contains(59));
}

TEST_CASE("an open string all of whose partials lie on an asked note's is no fault: open E6 has B2's open note as its third partial") {
    // Standard tuning: E2 is MIDI 40, B3 59 = 40 + 19 semitones, 3 : 1 within 2 cents. A right grip would be blamed for its own bass.
    const auto with_open_e = of("0x01xx");
    CHECK(std::none_of(with_open_e.begin(), with_open_e.end(), [](const Hypothesis& h) { return h.fault == FaultKind::extra_note && h.string == 2; }));
    CHECK(std::any_of(with_open_e.begin(), with_open_e.end(), [](const Hypothesis& h) { return h.fault == FaultKind::extra_note && h.string == 5; }));
    const auto with_f = of("1x01xx");
    CHECK(std::any_of(with_f.begin(), with_f.end(), [](const Hypothesis& h) { return h.fault == FaultKind::extra_note && h.string == 2; }));
}

TEST_CASE("no hypothesis leaves the neck, and a fault sounds what it says") {
    for (const char* grip : kGrips) {
        CAPTURE(grip);
        const auto all = of(grip);
        for (const Hypothesis& h : all) {
            if (h.fault == FaultKind::missing_note) CHECK(h.notes.size() <= all.front().notes.size());
            if (h.fault == FaultKind::shifted) {
                CHECK(h.frets != 0);
                CHECK(h.notes.lowest() == all.front().notes.lowest() + h.frets);
            }
            if (h.fault == FaultKind::wrong_bass) {
                CHECK(h.notes.pitch_classes() == all.front().notes.pitch_classes());
                CHECK(h.notes.lowest() % 12 != all.front().notes.lowest() % 12);
            }
            for (const int note : h.notes.notes()) CHECK((note >= 33 && note <= 64 + kMaxFret));
        }
    }
}

TEST_CASE("a single note may be an octave off, which is no right one, where the guitar has that note") {
    // Standard tuning: string 4's second fret is E3, MIDI 52; E2 and E4 are open strings. F2 (41) has no octave below, C6 (84) none above fret kMaxFret of string 1.
    const auto octaves = [](const char* note, const Tuning& tuning = Tuning(), int capo = 0) {
        std::vector<int> found;
        for (const Hypothesis& h : of(note, tuning, capo))
            if (h.fault == FaultKind::wrong_note && (h.frets == 12 || h.frets == -12)) {
                CHECK(!h.right);
                CHECK(h.notes.size() == 1);
                found.push_back(h.notes.lowest());
            }
        return found;
    };
    CHECK(octaves("xx2xxx") == std::vector<int>{40, 64});
    CHECK(octaves("1xxxxx") == std::vector<int>{53});
    CHECK(octaves("xx2xxx", Tuning(), 2) == std::vector<int>{42, 66});
    CHECK(octaves("xx0xxx", Tuning::parse("drop D").value()) == std::vector<int>{38, 62});
    CHECK(octaves("xx0xxx") == std::vector<int>{62});  // D2 lies below the open sixth string
    CHECK(octaves("8x89xx").empty());
    for (const Hypothesis& h : of("xx2xxx"))
        if (h.right) CHECK((!h.fault || h.fault == FaultKind::extra_note));
}

TEST_CASE("capo and other tunings move the notes, not the frets") {
    const auto plain = of("3x23xx"), capo = of("3x23xx", Tuning(), 3);
    CHECK(capo.front().notes.lowest() == plain.front().notes.lowest() + 3);
    const Tuning drop_d = Tuning::parse("drop D").value();
    CHECK(of("5x23xx", drop_d).front().notes.lowest() == 43);  // D2 + 5 frets = G2
}
