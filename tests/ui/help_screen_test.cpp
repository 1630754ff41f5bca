#include <doctest/doctest.h>

#include "ui/golden.h"
#include "ui/help_screen.h"
#include "ui/practice_keys.h"
#include "ui/text_layout.h"

using namespace gripline;

TEST_CASE("All of the help can be read at any size: every word is on some page") {
    const HelpView help = practice_help();
    for (const auto& [columns, rows] : {std::pair(80, 24), std::pair(40, 12), std::pair(20, 5), std::pair(200, 60)}) {
        std::string all;
        HelpView view = help;
        const int pages = help_pages(view, columns, rows);
        for (view.page = 0; view.page < pages; ++view.page) {
            Canvas canvas(columns, rows, CharacterSet::ascii);
            draw_help(canvas, view);
            all += canvas.text();
        }
        for (const char* word : {"Strum", "Hearing:", "Hands:", "pain", "clinician", "quit", "shuffled", "sound", "semitone"}) CHECK(all.find(word) != std::string::npos);
    }
}

TEST_CASE("A page beyond the last and a screen of one cell are still drawn") {
    HelpView view = practice_help();
    view.page = 99;
    Canvas canvas(80, 24, CharacterSet::ascii);
    draw_help(canvas, view);
    CHECK(canvas.text().find("Any key: on to practice.") != std::string::npos);
    Canvas cell(1, 1, CharacterSet::ascii);
    draw_help(cell, view);
    Canvas none(0, 0, CharacterSet::ascii);
    draw_help(none, view);
}

TEST_CASE("Every key of the table is explained and does one thing") {
    for (const KeyWords& words : practice_key_words(true)) {
        const char character = words.key == "space" ? ' ' : words.key[0];
        CHECK(practice_command({character, SpecialKey::none}).has_value());
    }
    CHECK(practice_command({'q', SpecialKey::none}) == PracticeCommand::quit);
    CHECK(practice_command({0, SpecialKey::right}) == PracticeCommand::next);
    CHECK(practice_command({0, SpecialKey::enter}) == PracticeCommand::again);
    CHECK_FALSE(practice_command({}).has_value());
    CHECK_FALSE(practice_command({0, SpecialKey::page_up}).has_value());
    CHECK_FALSE(practice_command({'~', SpecialKey::none}).has_value());
}

TEST_CASE("Pictures of help and cautions") {
    for (const auto& [columns, rows] : {std::pair(80, 24), std::pair(40, 12)}) {
        const std::string size = std::to_string(columns) + "x" + std::to_string(rows);
        Canvas help(columns, rows, CharacterSet::utf8);
        draw_help(help, practice_help());
        test::check_golden("help-" + size, help.text());
        Canvas cautions(columns, rows, CharacterSet::utf8);
        draw_help(cautions, first_start_help());
        test::check_golden("cautions-" + size, cautions.text());
    }
}
