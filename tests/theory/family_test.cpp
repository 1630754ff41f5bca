#include <doctest/doctest.h>

#include <algorithm>
#include <set>
#include <string>
#include <vector>

#include "theory/family.h"

using namespace gripline;

namespace {

using Classes = std::set<int>;
Classes scale_of(NoteName root, Family family) {
    Classes out;
    for (const auto& step : harmonised_scale(root, family)) out.insert(step.name.pitch_class().value());
    return out;
}
/// All transpositions and inversions of a set, for "is of the same set class" (Forte 1973: equivalence under Tn and TnI).
bool same_set_class(const Classes& a, const Classes& b) {
    for (int sign : {1, -1})
        for (int shift = 0; shift < 12; ++shift) {
            Classes moved;
            for (const int each : a) moved.insert(PitchClass(sign * each + shift).value());
            if (moved == b) return true;
        }
    return false;
}
std::string spelled_scale(const char* root, Family family) {
    std::string out;
    for (const auto& step : harmonised_scale(*NoteName::parse(root), family)) out += (out.empty() ? "" : " ") + step.name.text();
    return out;
}

}  // namespace

TEST_CASE("each scale is the complement of its own chord's set class, in all twelve keys (Forte 1973: 4-26, 4-27, 4-27, 4-25)") {
    // Prime forms of Forte's table, entered from memory.
    const std::vector<std::pair<Family, Classes>> rows{{Family::major_sixth, {0, 3, 5, 8}}, {Family::minor_sixth, {0, 2, 5, 8}},
                                                       {Family::dominant_seventh, {0, 2, 5, 8}}, {Family::seventh_flat_five, {0, 2, 6, 8}}};
    for (const auto& [family, prime] : rows) {
        for (int key = 0; key < 12; ++key) {
            const NoteName root = usual_root(PitchClass(key));
            CAPTURE(root.text());
            CAPTURE(std::string(name(family)));
            const Classes scale = scale_of(root, family);
            Classes complement, chord;
            for (int each = 0; each < 12; ++each)
                if (!scale.contains(each)) complement.insert(each);
            const auto tones = harmonised_scale(root, family)[0].tones;
            for (const NoteName& tone : tones) chord.insert(tone.pitch_class().value());
            CHECK(scale.size() == 8);
            CHECK(same_set_class(chord, prime));
            CHECK(same_set_class(complement, prime));
        }
    }
    CHECK_FALSE(same_set_class({0, 3, 5, 8}, {0, 2, 5, 8}));  // the comparison can fail
}

TEST_CASE("harmonised, a scale gives two chords in turn: its own and the diminished seventh a semitone below its root") {
    for (const Family family : kSixthDiminishedFamilies) {
        for (int key = 0; key < 12; ++key) {
            const auto steps = harmonised_scale(usual_root(PitchClass(key)), family);
            REQUIRE(steps.size() == 8);
            Classes between;
            for (const int third : {0, 3, 6, 9}) between.insert(PitchClass(key - 1 + third).value());
            for (std::size_t i = 0; i < 8; ++i) {
                Classes tones, first;
                for (const NoteName& tone : steps[i].tones) tones.insert(tone.pitch_class().value());
                for (const NoteName& tone : steps[0].tones) first.insert(tone.pitch_class().value());
                CHECK(steps[i].role == (i % 2 == 0 ? Role::chord : Role::passing));
                CHECK(tones == (i % 2 == 0 ? first : between));
            }
        }
    }
}

TEST_CASE("inversion: the step is the root, third, fifth, sixth or seventh of its chord") {
    const auto steps = harmonised_scale(NoteName(), Family::dominant_seventh);
    const std::vector<std::pair<const char*, int>> wanted{{"C7", 0}, {"Bdim7", 1}, {"C7", 1}, {"Bdim7", 2}, {"C7", 2}, {"Bdim7", 3}, {"C7", 3}, {"Bdim7", 0}};
    for (std::size_t i = 0; i < 8; ++i) {
        CHECK(steps[i].chord == wanted[i].first);
        CHECK(steps[i].inversion == wanted[i].second);
    }
}

TEST_CASE("the eight notes are spelled in their key (common practice, no source)") {
    CHECK(spelled_scale("C", Family::dominant_seventh) == "C D E F G Ab Bb B");
    CHECK(spelled_scale("C", Family::major_sixth) == "C D E F G Ab A B");
    CHECK(spelled_scale("C", Family::minor_sixth) == "C D Eb F G Ab A B");
    CHECK(spelled_scale("C", Family::seventh_flat_five) == "C D E F Gb Ab Bb B");
    CHECK(spelled_scale("Bb", Family::major_sixth) == "Bb C D Eb F Gb G A");
    CHECK(spelled_scale("E", Family::major_sixth) == "E F# G# A B C C# D#");
    CHECK(spelled_scale("F#", Family::dominant_seventh) == "F# G# A# B C# D E E#");
    CHECK(spelled_scale("Db", Family::major_sixth) == "Db Eb F Gb Ab A Bb C");  // A, not Bbb
    CHECK(spelled_scale("C", Family::diminished) == "C Eb Gb A");
}

TEST_CASE("no scale on any root that can be written has a double accidental, and every note sounds as its degree says") {
    for (int letter = 0; letter < 7; ++letter)
        for (int accidental = -1; accidental <= 1; ++accidental)
            for (const Family family : kSixthDiminishedFamilies)
                for (const auto& step : harmonised_scale(NoteName(letter, accidental), family)) {
                    CHECK(std::abs(step.name.accidental()) <= 1);
                    CHECK(NoteName(letter, accidental).pitch_class().up(step.degree.semitones()) == step.name.pitch_class());
                }
}

TEST_CASE("families by name and by suffix; others are errors") {
    CHECK(*parse_family("minor sixth") == Family::minor_sixth);
    CHECK(*parse_family("7b5") == Family::seventh_flat_five);
    CHECK(*parse_family("dim7") == Family::diminished);
    CHECK_FALSE(parse_family("major seventh").ok());
    CHECK_FALSE(parse_family("").ok());
}
