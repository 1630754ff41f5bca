// Other string sets, tunings, capo and what the neck cannot hold. Frets: common practice, no source, written down by hand.
#include <doctest/doctest.h>

#include <set>
#include <string>

#include "fretboard/inversions.h"
#include "fretboard/stage.h"

using namespace gripline;

namespace {
Stage stage_of(const char* root, Family family, StageKind kind, const char* set, const Neck& neck = {}) {
    auto stage = build_stage(*NoteName::parse(root), family, kind, *StringSet::parse(set), neck);
    REQUIRE_MESSAGE(stage.ok(), (stage.ok() ? "" : stage.error().message));
    return *stage;
}
std::string first_grip(const char* root, Family family, StageKind kind, const char* set, const Neck& neck = {}) {
    const Step step = stage_of(root, family, kind, set, neck).steps.front();
    return step.grip ? step.grip->text() : "left out: " + step.left_out;
}
constexpr Family k7 = Family::dominant_seventh;
}  // namespace

TEST_CASE("the string sets: C7 with its root leading") {
    CHECK(first_grip("C", k7, StageKind::scale, "1") == "xxxxx8");
    CHECK(first_grip("C", k7, StageKind::scale, "6") == "8xxxxx");
    CHECK(first_grip("C", k7, StageKind::drop2, "4-3-2-1") == "xx8988");
    CHECK(first_grip("C", k7, StageKind::drop3, "6-4-3-2") == "8x898x");
    CHECK(first_grip("C", k7, StageKind::shell, "6-4-3") == "8x89xx");
    CHECK(first_grip("C", k7, StageKind::drop3, "5-3-2-1") == "x3x353");
    CHECK(first_grip("C", k7, StageKind::shell, "5-3-2") == "x3x35x");
}

TEST_CASE("tunings and capo move the frets, not the sound") {
    Neck neck;
    neck.tuning = *Tuning::parse("drop D");
    CHECK(first_grip("C", k7, StageKind::shell, "6-4-3", neck) == "10-x-8-9-x-x");
    neck.tuning = *Tuning::parse("tone down");
    CHECK(first_grip("C", k7, StageKind::shell, "6-4-3", neck) == "10-x-10-11-x-x");
    neck.tuning = *Tuning::parse("seven string B");
    CHECK(first_grip("C", k7, StageKind::shell, "6-4-3", neck) == "x8x89xx");
    CHECK(first_grip("C", k7, StageKind::shell, "7-5-4", neck) == "1x12xxx");
    Neck capo;
    capo.capo = 3;
    CHECK(first_grip("C", k7, StageKind::shell, "6-4-3", capo) == "5x56xx");
    CHECK(stage_of("C", k7, StageKind::shell, "6-4-3", capo).steps[0].bass().text() == "C3");
}

TEST_CASE("a scale rises from its lowest root on one string; past the neck's end it goes down an octave and says so") {
    const int whole[] = {8, 10, 12, 13, 15, 16, 18, 19}, cut[] = {8, 10, 12, 13, 15, 16, 6, 7};
    const Stage on_twenty = stage_of("C", k7, StageKind::scale, "1");
    Neck short_neck;
    short_neck.last_fret = 17;
    const Stage on_seventeen = stage_of("C", k7, StageKind::scale, "1", short_neck);
    for (std::size_t i = 0; i < 8; ++i) {
        CHECK(on_twenty.steps[i].grip->fret(StringNumber(1))->number() == whole[i]);
        CHECK(on_twenty.steps[i].remark.empty());
        CHECK(on_seventeen.steps[i].grip->fret(StringNumber(1))->number() == cut[i]);
        CHECK(on_seventeen.steps[i].remark.empty() == (i < 6));
    }
    CHECK(on_seventeen.steps[6].remark == "an octave lower: string 1 would lie at fret 18, past the last fret in use (17)");
}

TEST_CASE("what the neck cannot hold is left out with the reason") {
    Neck short_neck;
    short_neck.last_fret = 12;
    const Step f = stage_of("Bb", Family::major_sixth, StageKind::drop3, "6-4-3-2", short_neck).steps[4];
    CHECK_FALSE(f.grip);
    CHECK(f.notes.empty());
    CHECK(f.places.empty());
    CHECK(f.left_out == "string 2 would lie at fret -1, below the nut; an octave higher string 6 would lie at fret 13, past the last fret in use (12)");
    Neck small_hand;
    small_hand.max_stretch = 1;
    const Step d = stage_of("Bb", Family::major_sixth, StageKind::drop3, "6-4-3-2", small_hand).steps[2];
    CHECK_FALSE(d.grip);
    CHECK(d.left_out.find("10-x-8-10-8-x stretches over 2 frets, at most 1") != std::string::npos);
    Neck up_the_neck;
    up_the_neck.lowest_fret = 5;
    const Step g = stage_of("C", k7, StageKind::shell, "6-4-3", up_the_neck).steps[4];
    REQUIRE(g.grip);
    CHECK(g.grip->text() == "15-x-14-15-x-x");
    CHECK(g.remark.starts_with("an octave higher: string 6 would lie at fret 3, below the lowest fret in use (5)"));
}

TEST_CASE("a set on which the stage does not lie, and values out of range, are errors") {
    const auto says = [](StageKind kind, const char* set, const Neck& neck) {
        const auto stage = build_stage(NoteName(), k7, kind, *StringSet::parse(set), neck);
        return stage.ok() ? std::string("no error") : stage.error().message;
    };
    CHECK(says(StageKind::drop3, "4-3-2-1", {}) == "drop 3 does not lie on strings 4-3-2-1 of 6; it lies on 6-4-3-2, 5-3-2-1");
    CHECK(says(StageKind::shell, "7-5-4", {}).find("6-4-3, 5-3-2") != std::string::npos);
    CHECK(says(StageKind::scale, "6-4-3", {}).find("scale does not lie on") == 0);
    Neck bad;
    bad.capo = 13;
    CHECK(says(StageKind::shell, "6-4-3", bad) == "capo fret 13 is out of range; it may be 0 to 12");
    bad = {};
    bad.last_fret = 1000000;
    CHECK(says(StageKind::shell, "6-4-3", bad).find("last fret 1000000") == 0);
    bad = {};
    bad.max_stretch = 0;
    CHECK(says(StageKind::shell, "6-4-3", bad).find("largest stretch 0") == 0);
    for (const char* text : {"", "6-", "-6", "6--4", "0", "8", "3-4-6", "6-6", "a", "6-4-3-"}) {
        CAPTURE(text);
        CHECK_FALSE(StringSet::parse(text).ok());
    }
    CHECK(StringSet::parse("643")->text() == "6-4-3");
    CHECK(StringSet::parse("6 4 3 2")->text() == "6-4-3-2");
    CHECK_FALSE(parse_stage_kind("drop 4").ok());
    CHECK(*parse_stage_kind("drop 3") == StageKind::drop3);
}

TEST_CASE("every root, family, stage and set of a neck: the grip sounds its chord, lies on the neck and within the hand, or says why not") {
    int grips = 0;
    for (const char* tuning : {"standard", "drop D", "seven string A"})
        for (const int capo : {0, 3})
            for (int key = 0; key < 12; ++key)
                for (const Family family : {Family::major_sixth, Family::minor_sixth, k7, Family::seventh_flat_five, Family::diminished})
                    for (const StageKind kind : {StageKind::scale, StageKind::drop2, StageKind::drop3, StageKind::shell}) {
                        Neck neck;
                        neck.tuning = *Tuning::parse(tuning);
                        neck.capo = capo;
                        for (const StringSet& set : string_sets(kind, neck.tuning.strings())) {
                            const auto stage = build_stage(usual_root(PitchClass(key)), family, kind, set, neck);
                            REQUIRE(stage.ok());
                            const auto scale = harmonised_scale(usual_root(PitchClass(key)), family);
                            REQUIRE(stage->steps.size() == scale.size());
                            for (std::size_t i = 0; i < scale.size(); ++i) {
                                const Step& step = stage->steps[i];
                                REQUIRE(step.grip.has_value() == step.left_out.empty());
                                REQUIRE(step.grip.has_value() == !step.places.empty());
                                std::set<PitchClass> tones;
                                for (const NoteName& tone : scale[i].tones) tones.insert(tone.pitch_class());
                                for (const Grip& place : step.places) {
                                    ++grips;
                                    std::set<PitchClass> sounded;
                                    for (const GripNote& note : place.notes(neck.tuning, capo)) {
                                        REQUIRE(tones.contains(note.note.pitch_class()));
                                        REQUIRE(note.fret.number() >= 0);
                                        REQUIRE(note.fret.number() + capo <= 20);
                                        sounded.insert(note.note.pitch_class());
                                    }
                                    REQUIRE(sounded.size() == set.strings().size());
                                    REQUIRE(place.stretch() <= 4);
                                }
                                if (!step.grip) continue;
                                const auto notes = step.grip->notes(neck.tuning, capo);
                                for (std::size_t n = 0; n < notes.size(); ++n) REQUIRE(step.notes[n].midi() == notes[n].note);
                                const auto& leading = kind == StageKind::drop2 ? notes.back() : notes.front();
                                REQUIRE(leading.note.pitch_class() == scale[i].name.pitch_class());
                            }
                        }
                    }
    CHECK(grips > 10000);
}

TEST_CASE("an approach is the target slid one fret, and must stay on the neck") {
    CHECK(approach_grip(*Grip::parse("8x89xx"), From::below)->text() == "7x78xx");
    CHECK(approach_grip(*Grip::parse("8x89xx"), From::above)->text() == "9-x-9-10-x-x");
    CHECK_FALSE(approach_grip(*Grip::parse("1x01xx"), From::below).ok());
    CHECK_FALSE(approach_grip(*Grip::parse("20-x-19-20-x-x"), From::above).ok());
}

TEST_CASE("the same notes over another bass: C Bb E at fret 8 has Bb in the bass at 6, twice, and an octave up") {
    std::string found;
    for (const Grip& grip : other_basses(*Grip::parse("8x89xx"))) found += grip.text() + " ";
    CHECK(found == "6-x-10-9-x-x 6x25xx 18-x-14-17-x-x ");
    Neck small_hand;
    small_hand.max_stretch = 3;
    CHECK(other_basses(*Grip::parse("8x89xx"), small_hand).empty());
    CHECK(other_basses(*Grip::parse("xxxxxx")).empty());
    CHECK(other_basses(*Grip::parse("1x12xxx", 7)).empty());
}
