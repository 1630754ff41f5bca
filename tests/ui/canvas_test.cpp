#include <doctest/doctest.h>

#include "ui/canvas.h"
#include "ui/text_layout.h"

using namespace gripline;

TEST_CASE("Text beyond the grid is cut off and marked, and drawing outside never fails") {
    Canvas canvas(8, 2, CharacterSet::utf8);
    CHECK(canvas.text(0, 0, "strings 6-4-3") == 8);
    CHECK(canvas.row_text(0) == "strings~");
    CHECK(canvas.text(5, 1, "grip", Tone::plain, 2) == 2);
    CHECK(canvas.row_text(1) == "     g~");
    canvas.put(-1, 0, U'x');
    canvas.put(0, 9, U'x');
    CHECK(canvas.text(20, 0, "far") == 0);
    CHECK(canvas.text(-2, 1, "abcd") == 4);
    CHECK(canvas.row_text(1) == "cd   g~");
    CHECK(Canvas(-3, -1, CharacterSet::utf8).text().empty());
}

TEST_CASE("An ASCII canvas holds nothing outside 32 to 126, whatever is put on it") {
    Canvas canvas(1, 1, CharacterSet::ascii);
    for (char32_t c = 0; c < 0x11000; ++c) {
        canvas.put(0, 0, c);
        const char32_t shown = canvas.cell(0, 0).character;
        if (shown < 32 || shown > 126) FAIL("character " << static_cast<unsigned>(c) << " is shown as " << static_cast<unsigned>(shown));
    }
    canvas.put(0, 0, U'\u266D');
    CHECK(canvas.row_text(0) == "b");
}

TEST_CASE("Control characters, wide and combining characters can't break the grid") {
    Canvas canvas(6, 1, CharacterSet::utf8);
    // U+1F3B8 and U+4E2D are wide, U+0301 combines (Unicode 15, EastAsianWidth and UnicodeData).
    canvas.text(0, 0, "\x1b\n\u4e2d\u0301\U0001F3B8\u266d");
    CHECK(canvas.row_text(0) == "?????\u266d");
}

TEST_CASE("Broken UTF-8 is replaced byte by byte") {
    // Ill-formed sequences from Unicode 15, table 3-8 and RFC 3629: overlong, surrogate, beyond U+10FFFF, truncated.
    for (const char* broken : {"\xC0\xAF", "\xE0\x80\xAF", "\xED\xA0\x80", "\xF4\x90\x80\x80", "\xFF", "\xE2\x82", "\x80"}) {
        for (const char32_t c : decode_utf8(broken)) CHECK(c == U'\uFFFD');
    }
    CHECK(decode_utf8("A\xE2\x99\xAD").size() == 2);
    CHECK(encode_utf8(U'\u266D') == "\u266d");
    CHECK(encode_utf8(U'\U0001F3B8') == "\U0001F3B8");
    CHECK(encode_utf8(0xD800) == "\uFFFD");
}

TEST_CASE("Words are wrapped at spaces, long words are cut, nothing is lost") {
    CHECK(wrap("String 3, one fret sharp", 10) == std::vector<std::string>{"String 3,", "one fret", "sharp"});
    CHECK(wrap("abcdefghij kl", 4) == std::vector<std::string>{"abcd", "efgh", "ij", "kl"});
    CHECK(wrap("a\nb", 10) == std::vector<std::string>{"a", "b"});
    CHECK(wrap("", 10).empty());
    CHECK(wrap("ab", 0) == std::vector<std::string>{"a", "b"});
    for (int columns = 1; columns < 40; ++columns) {
        std::string joined;
        for (const std::string& line : wrap("The whole grip one fret sharp.", columns)) {
            CHECK(columns_of(line) <= columns);
            joined += line;
        }
        std::erase(joined, ' ');
        CHECK(joined == "Thewholegriponefretsharp.");
    }
}
