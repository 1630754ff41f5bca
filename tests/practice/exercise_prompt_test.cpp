#include <doctest/doctest.h>

#include "practice/course.h"
#include "practice/exercise_prompt.h"

using namespace gripline;

namespace {

PracticeStep step_of(Family family, const char* root, std::size_t place) {
    Course course;
    course.family = family;
    course.root = NoteName::parse(root).value();
    return make_exercise(course, {}).value().steps.at(place);
}

std::vector<int> midi_of(const SoundedStep& sounded) {
    std::vector<int> out;
    for (const GripNote& note : sounded.step.notes()) out.push_back(note.note.number());
    return out;
}

}  // namespace

TEST_CASE("The key is given by its dominant seventh and its own chord, roots in the bass") {
    // Into C minor sixth: G7, Cm6; the shells of the trade's worked tables (common practice, no source): C 8x788x without string 2.
    const auto row = key_cadence(step_of(Family::minor_sixth, "C", 2));
    REQUIRE(row.size() == 2);
    CHECK(row[0].step.chord == "G7");
    CHECK(row[0].step.bass == "G");
    CHECK(row[1].step.chord == "Cm6");
    CHECK(row[1].step.grip.text() == "8x78xx");
}

TEST_CASE("A cadence in each of the twelve keys and four families") {
    for (const Family family : kSixthDiminishedFamilies) {
        for (int key = 0; key < 12; ++key) {
            const std::string root = usual_root(PitchClass(key)).text();
            CAPTURE(root);
            const auto row = key_cadence(step_of(family, root.c_str(), 0));
            REQUIRE(row.size() == 2);
            CHECK(row[1].step.notes().front().note.pitch_class().value() == key);
            CHECK(row[0].step.notes().front().note.pitch_class().value() == (key + 7) % 12);
        }
    }
}

TEST_CASE("Bass first, note by note, at once: numbers of MIDI 1.0 on standard tuning (ISO 16)") {
    const PracticeStep g = step_of(Family::dominant_seventh, "C", 1);  // 3x23xx: G2 E3 Bb3
    REQUIRE(g.grip.text() == "3x23xx");
    CHECK(prompt_sounds(g, PromptStyle::together).size() == 1);
    const auto bass = prompt_sounds(g, PromptStyle::bass_first);
    REQUIRE(bass.size() == 2);
    CHECK(midi_of(bass[0]) == std::vector<int>{43});
    CHECK(midi_of(bass[1]) == std::vector<int>{43, 52, 58});
    const auto notes = prompt_sounds(g, PromptStyle::note_by_note);
    REQUIRE(notes.size() == 4);
    CHECK(midi_of(notes[0]) == std::vector<int>{43});
    CHECK(midi_of(notes[1]) == std::vector<int>{52});
    CHECK(midi_of(notes[2]) == std::vector<int>{58});
    CHECK(length_s(notes) == doctest::Approx(3 * 0.5 + 1.6));
}
