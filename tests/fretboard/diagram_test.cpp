#include <doctest/doctest.h>

#include <string>

#include "fretboard/diagram.h"

using namespace gripline;

namespace {
std::string drawn(const char* grip, const Neck& neck = {}, const DiagramStyle& style = {}) {
    std::string out = "\n";
    for (const std::string& line : neck_diagram(*Grip::parse(grip, neck.tuning.strings()), neck, style)) out += line + "\n";
    return out;
}
/// Characters of UTF-8 text; every one in these pictures is a column wide.
std::size_t columns_of(const std::string& line) {
    std::size_t columns = 0;
    for (const char c : line) columns += (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
    return columns;
}
}  // namespace

TEST_CASE("upright at the nut and up the neck") {
    DiagramStyle style;
    style.least_frets = 3;
    CHECK(drawn("1x01xx", {}, style) == R"(
     x o   x x
   ╒═╤═╤═╤═╤═╕
 1 ● │ │ ● │ │
   ├─┼─┼─┼─┼─┤
   │ │ │ │ │ │
   ├─┼─┼─┼─┼─┤
   │ │ │ │ │ │
   └─┴─┴─┴─┴─┘
   6 5 4 3 2 1
)");
    style.ascii = true;
    style.least_frets = 2;
    CHECK(drawn("10-x-9-10-x-x", {}, style) == R"(
     x     x x
   +-+-+-+-+-+
 9 | | @ | | |
   +-+-+-+-+-+
10 @ | | @ | |
   +-+-+-+-+-+
   6 5 4 3 2 1
)");
}

TEST_CASE("lying, string 1 on top; a left-handed neck is turned round; the capo is named") {
    CHECK(drawn("10-x-9-10-9-x", {}, {Lay::lying, false, 4}) == R"(
1 x ┼───┼───┼───┼───┼
2   ┼─●─┼───┼───┼───┼
3   ┼───┼─●─┼───┼───┼
4   ┼─●─┼───┼───┼───┼
5 x ┼───┼───┼───┼───┼
6   ┼───┼─●─┼───┼───┼
      9  10          
)");
    Neck neck;
    neck.left_handed = true;
    neck.capo = 3;
    CHECK(drawn("3x23xx", neck, {Lay::lying, true, 4}) == R"(
capo 3               
+---+---+---+---# x 1
+---+---+---+---# x 2
+---+-@-+---+---#   3
+---+---+-@-+---#   4
+---+---+---+---# x 5
+---+-@-+---+---#   6
      3   2          
)");
    CHECK(drawn("3x23xx", neck, {Lay::upright, true, 3}) == R"(
   capo 3     
   x x     x  
   +=+=+=+=+=+
   | | | | | |
   +-+-+-+-+-+
 2 | | | @ | |
   +-+-+-+-+-+
 3 | | @ | | @
   +-+-+-+-+-+
   1 2 3 4 5 6
)");
}

TEST_CASE("every fret of the neck, both lays and hands, four to seven strings: all lines are equally wide, every fretted string has its dot") {
    for (const char* tuning : {"A1 D2 G2 C3", "standard", "seven string A"})
        for (int fret = 0; fret <= kMaxFret; ++fret)
            for (const Lay lay : {Lay::upright, Lay::lying})
                for (const bool ascii : {false, true})
                    for (const bool left : {false, true}) {
                        Neck neck;
                        neck.tuning = *Tuning::parse(tuning);
                        neck.left_handed = left;
                        neck.capo = fret % 3;
                        Grip grip(neck.tuning.strings());
                        grip.set(grip.strings() == 7 ? StringNumber(7) : StringNumber(4), Fret(fret));
                        const auto lines = neck_diagram(grip, neck, {lay, ascii, 4});
                        REQUIRE(!lines.empty());
                        std::size_t dots = 0;
                        for (const std::string& line : lines) {
                            CAPTURE(line);
                            REQUIRE(columns_of(line) == columns_of(lines[0]));
                            const std::string dot = ascii ? "@" : "●";
                            for (std::size_t at = 0; (at = line.find(dot, at)) != std::string::npos; at += dot.size()) ++dots;
                        }
                        REQUIRE(dots == (fret > 0 ? 1 : 0));
                    }
    CHECK(neck_diagram(Grip(7)).empty());
    CHECK(neck_diagram(*Grip::parse("3x23xx"), {}, {Lay::upright, true, -5}).size() > 3);
    CHECK(neck_diagram(*Grip::parse("3x23xx"), {}, {Lay::upright, true, 1000000}).size() < 60);
}
