#include <doctest/doctest.h>

#include "ui/golden.h"
#include "ui/practice_screen.h"
#include "ui/view_fixture.h"

using namespace gripline;

namespace {

const std::vector<std::pair<int, int>> kSizes = {{80, 24}, {120, 40}, {40, 12}, {24, 6}};

void check_pictures(const std::string& name, const PracticeView& view) {
    for (const CharacterSet characters : {CharacterSet::utf8, CharacterSet::ascii}) {
        for (const auto& [columns, rows] : kSizes) {
            Canvas canvas(columns, rows, characters);
            draw_practice(canvas, view);
            const std::string set = characters == CharacterSet::utf8 ? "-utf8" : "-ascii";
            test::check_golden("practice-" + name + "-" + std::to_string(columns) + "x" + std::to_string(rows) + set, canvas.text());
        }
    }
}

}  // namespace

TEST_CASE("Pictures: asking") { check_pictures("asking", test::asking()); }
TEST_CASE("Pictures: right") { check_pictures("right", test::answered_right()); }
TEST_CASE("Pictures: wrong") { check_pictures("wrong", test::answered_wrong()); }
TEST_CASE("Pictures: trouble with the input") { check_pictures("trouble", test::input_trouble()); }
TEST_CASE("Pictures: nothing to ask") { check_pictures("nothing", test::nothing_to_ask()); }

TEST_CASE("Every size from 0 x 0 to 130 x 45 is drawn, and the verdict's first word is there from 12 x 2 on") {
    for (const CharacterSet characters : {CharacterSet::utf8, CharacterSet::ascii}) {
        for (int columns = 0; columns <= 130; columns += 3) {
            for (int rows = 0; rows <= 45; ++rows) {
                Canvas canvas(columns, rows, characters);
                draw_practice(canvas, test::answered_wrong());
                if (columns < 12 || rows < 2) continue;
                CHECK(canvas.text().find("Wrong.") != std::string::npos);
            }
        }
    }
}

TEST_CASE("The verdict can be told without colours: the pictures of right and wrong differ in words") {
    for (const auto& [columns, rows] : kSizes) {
        Canvas right(columns, rows, CharacterSet::ascii);
        Canvas wrong(columns, rows, CharacterSet::ascii);
        draw_practice(right, test::answered_right());
        draw_practice(wrong, test::answered_wrong());
        CHECK(right.text().find("Right.") != std::string::npos);
        CHECK(wrong.text().find("Right.") == std::string::npos);
    }
}
