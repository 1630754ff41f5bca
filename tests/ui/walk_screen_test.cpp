// Pictures of the walk screen, and what every size must show.
#include "ui/walk_screen.h"

#include <doctest/doctest.h>

#include "ui/golden.h"

using namespace gripline;

namespace {

WalkView walking() {
    WalkView view;
    view.title = "Blues in F";
    view.place = "chorus 2, bar 5 of 12";
    view.tempo = "120 a minute";
    view.now_label = "now, beat 2";
    view.next_label = "next";
    view.now = {.chord = "Bb7", .sounds = "Bdim7", .strings = {"6", "4", "3"}, .frets = {"7", "6", "7"}, .fret_string = "7x67xx"};
    view.next = {.chord = "Bb7", .sounds = "", .strings = {"6", "4", "3"}, .frets = {"10", "9", "10"}, .fret_string = "10-x-9-10-x-x"};
    view.count = 2;
    view.headline = "You play";
    view.last = {{"4.3", "right", "+4", Tone::good}, {"4.4", "right", "-12", Tone::good}, {"5.1", "wrong", "+31", Tone::bad}};
    view.last_word = "5.1: String 6, one fret flat: A heard, Bb asked.";
    const char* const chords[] = {"F7", "Bb7", "F7", "F7", "Bb7", "Bb7", "F7", "D7", "Gm7", "C7", "F7 D7", "Gm7 C7"};
    for (int bar = 1; bar <= 12; ++bar) view.bars.push_back({.chords = chords[bar - 1], .section = "", .number = bar, .current = bar == 5, .in_loop = true, .marks = ""});
    view.settings = "click 2 and 4 accented";
    view.counts_words = "right 16  wrong 1  unheard 0";
    view.level = {-30.0, -18.0, true};
    view.source = "line in (2 in, 48000 Hz)";
    view.keys = {{"?", "help"}, {"q", "quit"}, {"space", "stop"}};
    return view;
}

WalkEndView ended() {
    WalkEndView view;
    view.title = "Blues in F";
    view.headline = "48 beats: 45 right, 2 wrong, 1 unheard.";
    view.suggestion = "String 4 was off on 2 of 48 beats: place that finger first in those grips.";
    view.lines = {"Faults: wrong note 2.", "Time: +4 ms on the mean, spread 18 ms."};
    view.bars = walking().bars;
    for (BarCell& bar : view.bars) bar.marks = bar.number == 5 ? "X-<>" : "oooo";
    view.foot = "space again  q quit";
    return view;
}

}  // namespace

TEST_CASE("Pictures: walking, and the page at the end, at three sizes") {
    for (const CharacterSet characters : {CharacterSet::utf8, CharacterSet::ascii}) {
        const std::string ending = characters == CharacterSet::utf8 ? "-utf8" : "-ascii";
        test::check_three_sizes("walk-playing", characters, ending, [](Canvas& canvas) { draw_walk(canvas, walking()); });
        test::check_three_sizes("walk-end", characters, ending, [](Canvas& canvas) { draw_walk_end(canvas, ended()); });
    }
}

TEST_CASE("The last fault stands in words, the last verdict and the grip due beside it, at 40x12 and 80x24, in UTF-8 and ASCII") {
    for (const CharacterSet characters : {CharacterSet::utf8, CharacterSet::ascii}) {
        for (const auto& [columns, rows] : {std::pair{80, 24}, {40, 12}, {72, 22}}) {
            Canvas canvas(columns, rows, characters);
            draw_walk(canvas, walking());
            const std::string text = test::words_of(canvas);
            CAPTURE(canvas.text());
            CHECK(text.find("5.1: String 6, one fret flat: A heard, Bb asked.") != std::string::npos);
            CHECK(text.find("!wrong +31") != std::string::npos);
            CHECK(text.find("[2]") != std::string::npos);
        }
    }
}

TEST_CASE("At 80x24 the chord stands in large letters in ASCII too, with now and next beside each other") {
    Canvas canvas(80, 24, CharacterSet::ascii);
    draw_walk(canvas, walking());
    CHECK(canvas.text().find("############      ###           ####") != std::string::npos);
    CHECK(canvas.text().find(" now, beat 2  Bdim7                      next\n") != std::string::npos);
    CHECK(canvas.text().find("fret    7     6     7") != std::string::npos);
}

TEST_CASE("Warnings and answers to keys are whole from 60 columns on, also long ones") {
    const char* const words[] = {"No signal at all: check cable, volume, mute, and the choice of input (--device).",
                                 "default gives no sound any more: check its cable and the sound server; looking for it again."};
    for (const CharacterSet characters : {CharacterSet::utf8, CharacterSet::ascii}) {
        for (const char* const each : words) {
            for (const auto& [columns, rows] : {std::pair{80, 24}, {120, 40}, {60, 12}}) {
                WalkView warned = walking(), answered = walking();
                warned.warning = answered.notice = each;
                Canvas one(columns, rows, characters), other(columns, rows, characters);
                draw_walk(one, warned);
                draw_walk(other, answered);
                CHECK_MESSAGE(test::words_of(one).find(each) != std::string::npos, one.text());
                CHECK_MESSAGE(test::words_of(other).find(each) != std::string::npos, other.text());
            }
        }
    }
}

TEST_CASE("Every size is drawn; from 24 x 3 on the grip to be played is there, from 30 x 8 on the next one too") {
    for (const CharacterSet characters : {CharacterSet::utf8, CharacterSet::ascii}) {
        for (int columns = 0; columns <= 130; columns += 3) {
            for (int rows = 0; rows <= 45; ++rows) {
                Canvas canvas(columns, rows, characters), end(columns, rows, characters);
                draw_walk(canvas, walking());
                draw_walk_end(end, ended());
                const bool full = columns >= 72 && rows >= 22;
                if (columns >= 24 && rows >= 3 && !full) CHECK(canvas.text().find("7x67xx") != std::string::npos);
                if (columns >= 30 && rows >= 8 && !full) CHECK(canvas.text().find("10-x-9-10-x-x") != std::string::npos);
                if (columns >= 30 && rows >= 8) CHECK(end.text().find("48 beats") != std::string::npos);
            }
        }
    }
}
