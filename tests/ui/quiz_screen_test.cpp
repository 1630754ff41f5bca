#include <doctest/doctest.h>

#include "ui/golden.h"
#include "ui/quiz_screen.h"

using namespace gripline;

namespace {

QuizView asking() {
    QuizView view;
    view.title = "Week three: shells by name";
    view.place = "question 3 of 16";
    view.chord = "Bbm7";
    view.bass = "Db";
    view.headline = "Play Bbm7 with Db in the bass.";
    view.left_share = 0.6;
    view.left = "12 s";
    view.all_left = "4:05 in all";
    view.state = "Listening";
    view.level = {-30.0, -18.0, true};
    view.source = "line in (2 in, 48000 Hz)";
    view.keys = {{"space", "pause"}, {"q", "hand in"}};
    return view;
}

QuizView missed() {
    QuizView view = asking();
    view.chord = "C7";
    view.bass = "E";
    view.fret_string = "12-x-10-12-x-x";
    view.diagram = {"   x     x x", " +-+-+-+-+-+", "10 | * | | |", " 6 5 4 3 2 1"};
    view.headline = "Not right.";
    view.tone = Tone::bad;
    view.details = {"Asked was C7 with E in the bass: 12-x-10-12-x-x.", "String 3, one fret sharp: Ab heard, G asked."};
    view.left_share.reset();
    view.left.clear();
    view.state = "Heard";
    return view;
}

QuizView done() {
    QuizView view = asking();
    view.title = "Week three";
    view.place.clear();
    view.page = {{"Done, student 7: 12 of 16 right, 75 per cent: passed.", Tone::good}, {"Hand-in code 0f0538c0: tell it to your teacher now.", Tone::strong},
                 {"Hand in this folder: /home/s/quiz-7-20261125-0930-1a2b3c", Tone::strong}, {""}, {"  Shells by name: 12 of 16 right, 75 per cent: passed"}, {"Practise approaches from above into 7 chords: 1 of 4 right."}};
    view.all_left.clear();
    view.state = "Handed in";
    view.keys = {{"Enter", "leave"}};
    return view;
}

QuizView sound_check() {
    QuizView view = asking();
    view.title = "Week three";
    view.place.clear();
    view.chord.clear();
    view.bass.clear();
    view.headline.clear();
    view.left_share.reset();
    view.all_left.clear();
    view.page = {{"Sound check for student 7", Tone::strong}, {""}, {"Strum any chord, as loud as you will play: 1 of 3.", Tone::strong},
                 {"Too soft (-58 dB): turn the guitar or the input up to -50 dB or more.", Tone::warning},
                 {"This quiz has questions by ear, and nothing can be heard: no output was found. Connect headphones or speakers; if this stays, leave with q and begin the quiz again.", Tone::warning}, {""},
                 {"16 questions. When the sound is good a count-down begins by itself; then strum each grip once, hands-free."}, {""},
                 {"Loud headphones and amplifiers can damage hearing: start quiet. Stop at pain; a teacher or a clinician knows better than a program.", Tone::quiet}};
    view.state = "Sound check";
    view.keys = {{"h", "hear the output"}, {"c", "check again"}, {"q", "leave"}};
    return view;
}

QuizView by_ear() {
    QuizView view = asking();
    view.chord.clear();
    view.bass.clear();
    view.headline = "Play what you hear.";
    view.keys = {{"h", "hear it again"}, {"q", "hand in"}};
    return view;
}

QuizView walking() {
    QuizView view = asking();
    view.title = "Week three: the line";
    view.place = "question 9 of 16";
    view.headline = "Bar 3, beat 1.";
    view.details = {"Next: Bdim7 with D in the bass."};
    view.left_share.reset();
    view.left.clear();
    view.notice = "No click: there is no output. The count is on the screen.";
    return view;
}

void check_pictures(const std::string& name, const QuizView& view) {
    test::check_three_sizes("quiz-" + name, CharacterSet::ascii, "", [&](Canvas& canvas) {
        draw_quiz(canvas, view);
        for (const char c : canvas.text()) CHECK(static_cast<unsigned char>(c) < 0x80);  // for a terminal without UTF-8
    });
}

}  // namespace

TEST_CASE("Pictures: a question of a quiz") { check_pictures("asking", asking()); }
TEST_CASE("Pictures: a miss, with the right grip") { check_pictures("missed", missed()); }
TEST_CASE("Pictures: the end of a quiz") { check_pictures("done", done()); }
TEST_CASE("Pictures: the sound check before a quiz") { check_pictures("check", sound_check()); }
TEST_CASE("Pictures: a question by ear") { check_pictures("by-ear", by_ear()); }
TEST_CASE("Pictures: a line walked in a quiz") { check_pictures("walking", walking()); }
TEST_CASE("Pictures: a question in UTF-8") {
    Canvas canvas(80, 24, CharacterSet::utf8);
    draw_quiz(canvas, missed());
    test::check_golden("quiz-missed-80x24-utf8", canvas.text());
}
