#include "ui/canvas.h"

#include <algorithm>
#include <cassert>

#include "ui/text_layout.h"

namespace gripline {
namespace {

/// One column wide in every terminal we know of: Latin, Greek, Cyrillic letters without combining marks, musical accidentals,
/// arrows, lines and blocks. Everything else (East Asian wide, combining, emoji) would break the grid.
bool one_column(char32_t c) {
    return (c >= 0x20 && c < 0x7F) || (c >= 0xA0 && c < 0x300 && c != 0xAD) || (c >= 0x370 && c < 0x483) || (c >= 0x48A && c < 0x530) ||
           (c >= 0x2010 && c <= 0x2027) || (c >= 0x2190 && c < 0x2200) || (c >= 0x2500 && c < 0x2600) || (c >= 0x266D && c <= 0x266F);
}

char32_t in_ascii(char32_t c) {
    if (c < 0x7F) return c;
    if (c == U'─' || c == U'━') return U'-';
    if (c == U'═') return U'=';
    if (c == U'│' || c == U'┃' || c == U'║') return U'|';
    if (c >= 0x2500 && c < 0x2580) return U'+';
    if (c == U'░') return U'.';
    if (c >= 0x2580 && c < 0x25A0) return U'#';
    if (c == U'●') return U'@';
    if (c == U'○') return U'o';
    if (c == U'×') return U'x';
    if (c == U'♭') return U'b';
    if (c == U'♯') return U'#';
    if (c == U'·') return U'.';
    return U'?';
}

}  // namespace

Canvas::Canvas(int columns, int rows, CharacterSet characters)
    : columns_(std::max(columns, 0)), rows_(std::max(rows, 0)), characters_(characters),
      cells_(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_)) {}

const Cell& Canvas::cell(int x, int y) const {
    assert(x >= 0 && x < columns_ && y >= 0 && y < rows_);
    return cells_[static_cast<std::size_t>(y) * static_cast<std::size_t>(columns_) + static_cast<std::size_t>(x)];
}

void Canvas::put(int x, int y, char32_t character, Tone tone) {
    if (x < 0 || y < 0 || x >= columns_ || y >= rows_) return;
    if (!one_column(character)) character = U'?';
    if (characters_ == CharacterSet::ascii) character = in_ascii(character);
    cells_[static_cast<std::size_t>(y) * static_cast<std::size_t>(columns_) + static_cast<std::size_t>(x)] = {character, tone};
}

int Canvas::text(int x, int y, std::string_view utf8, Tone tone, int limit) {
    const std::u32string characters = decode_utf8(utf8);
    const int room = limit < 0 ? columns_ - x : std::min(limit, columns_ - x);
    const int length = static_cast<int>(characters.size());
    const int shown = std::min(length, std::max(room, 0));
    for (int i = 0; i < shown; ++i) {
        const bool cut = i == shown - 1 && shown < length;
        put(x + i, y, cut ? U'~' : characters[static_cast<std::size_t>(i)], tone);
    }
    return shown;
}

void Canvas::text_right(int end_x, int y, std::string_view utf8, Tone tone) { text(end_x - columns_of(utf8), y, utf8, tone); }

void Canvas::rule(int x, int y, int length, Tone tone) {
    for (int i = 0; i < length; ++i) put(x + i, y, U'─', tone);
}

std::string Canvas::row_text(int y) const {
    int end = columns_;
    while (end > 0 && cell(end - 1, y).character == U' ') --end;
    std::string out;
    for (int x = 0; x < end; ++x) out += encode_utf8(cell(x, y).character);
    return out;
}

std::string Canvas::text() const {
    std::string out;
    for (int y = 0; y < rows_; ++y) out += row_text(y) + '\n';
    return out;
}

}  // namespace gripline
