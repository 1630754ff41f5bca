#include <doctest/doctest.h>

#include <set>

#include "support/sweep.h"
#include "ui/block_glyphs.h"
#include "ui/block_letters.h"
#include "ui/golden.h"

using namespace gripline;

TEST_CASE("Every glyph is a full rectangle of dots, and no two look alike") {
    std::set<std::string> shapes;
    std::set<char> characters;
    for (const BlockGlyph& glyph : kBlockGlyphs) {
        std::string shape;
        for (const auto row : glyph.dots) {
            CHECK(row.size() == glyph.dots[0].size());
            CHECK(row.find_first_not_of("#.") == std::string_view::npos);
            shape += std::string(row) + "/";
        }
        CHECK(shapes.insert(shape).second);
        CHECK(characters.insert(glyph.character).second);
    }
}

TEST_CASE("Every symbol the trade writes for the families and their diminished chords has block letters") {
    for (const char* root : {"C", "Db", "D", "Eb", "E", "F", "F#", "Gb", "G", "Ab", "A", "Bb", "B"}) {
        for (const char* quality : {"6", "m6", "7", "7b5", "dim7", "maj7", "m7", "m7b5", "9", "13", "7#11", "7alt", "sus4", "6/9", "/E"}) {
            CHECK(has_block_letters(std::string(root) + quality));
        }
    }
    CHECK_FALSE(has_block_letters("H7"));
}

TEST_CASE("The symbol never leaves the room it is given, in any room") {
    for (const CharacterSet characters : {CharacterSet::utf8, CharacterSet::ascii}) {
        for (const char* symbol : {"C7", "Bbdim7", "F#m7b5", "Zz9", ""}) {
            for (int columns = 1; columns <= 90; columns += test::kSweepStep) {
                for (int rows = 1; rows <= 16; ++rows) {
                    Canvas canvas(100, 20, characters);
                    const int used = draw_chord_symbol(canvas, 0, 0, columns, rows, symbol, Tone::strong);
                    CHECK(used <= rows);
                    bool inside = true;
                    for (int y = 0; y < 20; ++y) {
                        for (int x = 0; x < 100; ++x) inside = inside && (canvas.cell(x, y).character == U' ' || (x < columns && y < rows));
                    }
                    CHECK(inside);
                }
            }
        }
    }
}

TEST_CASE("Pictures of all block letters") {
    for (const CharacterSet characters : {CharacterSet::utf8, CharacterSet::ascii}) {
        Canvas canvas(80, 5 * 8, characters);
        int y = 0;
        for (const char* line : {"ABCDEFG M", "b#adghijlmnostu", "0123456789", "/()+- Bbm7b5", "F#dim7"}) {
            draw_block(canvas, 0, y, line, {1}, Tone::plain);
            y += 8;
        }
        test::check_golden(characters == CharacterSet::utf8 ? "block-letters-utf8" : "block-letters-ascii", canvas.text());
    }
}
