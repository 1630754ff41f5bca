#include <doctest/doctest.h>

#include <map>
#include <set>

#include "practice/course.h"

using namespace gripline;

TEST_CASE("The C dominant-seventh shells are the eight of the trade's worked table, from the lowest bass up") {
    // Worked table of the trade (common practice): bass, chord, fret string.
    const std::vector<std::array<const char*, 3>> table = {{"F", "Bdim7", "1x01xx"},  {"G", "C7", "3x23xx"},  {"Ab", "Bdim7", "4x34xx"},       {"Bb", "C7", "6x55xx"},
                                                           {"B", "Bdim7", "7x67xx"},  {"C", "C7", "8x89xx"},  {"D", "Bdim7", "10-x-9-10-x-x"}, {"E", "C7", "12-x-10-12-x-x"}};
    const auto exercise = make_exercise(Course{}, Neck{});
    REQUIRE(exercise.ok());
    REQUIRE(exercise->steps.size() == table.size());
    for (std::size_t i = 0; i < table.size(); ++i) {
        CHECK(exercise->steps[i].bass == table[i][0]);
        CHECK(exercise->steps[i].chord == table[i][1]);
        CHECK(exercise->steps[i].grip.text() == table[i][2]);
    }
    CHECK(exercise->family == "C dominant seventh");
    CHECK(exercise->stage == "shell");
    CHECK(exercise->string_set == "6-4-3");
}

TEST_CASE("Notes are named as the key spells them") {
    Course course;
    course.root = NoteName::parse("A").value();
    const auto exercise = make_exercise(course, Neck{});
    REQUIRE(exercise.ok());
    // A7 holds C#: A C# E G.
    CHECK(exercise->steps.front().name(MidiNote(61)) == "C#");
}

TEST_CASE("Roots go round in twelve, families in four, stages in four, orders in three; string sets stay on their stage") {
    Course course;
    std::set<int> roots;
    for (int i = 0; i < 12; ++i) {
        roots.insert(course.root.pitch_class().value());
        course = root_moved(course, 1);
    }
    CHECK(roots.size() == 12);
    CHECK(course.root == Course{}.root);
    CHECK(root_moved(course, -1).root.text() == "B");
    for (int i = 0; i < 4; ++i) course = next_family(course);
    CHECK(course.family == Course{}.family);
    for (int i = 0; i < 4; ++i) {
        CHECK(checked(course.strings, course.stage, 6).ok());
        course = next_string_set(course, 6);
        CHECK(checked(course.strings, course.stage, 6).ok());
        course = next_stage(course, 6);
    }
    CHECK(course.stage == StageKind::shell);
    for (int i = 0; i < 3; ++i) course = next_order(course);
    CHECK(course.order == StepOrder::up);
}

TEST_CASE("A string set that does not fit the stage is an error, not an empty practice") {
    Course course;
    course.strings = StringSet({StringNumber(2)});
    CHECK_FALSE(make_exercise(course, Neck{}).ok());
}

TEST_CASE("Orders are read by their words") {
    CHECK(parse_step_order("shuffled").value() == StepOrder::shuffled);
    CHECK(parse_step_order("down").value() == StepOrder::down);
    for (const char* bad : {"", "Up", "sideways"}) CHECK_FALSE(parse_step_order(bad).ok());
}
