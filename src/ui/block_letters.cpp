#include "ui/block_letters.h"

#include <algorithm>

#include "ui/block_glyphs.h"

namespace gripline {
namespace {

constexpr int kLargestScale = 4;  // beyond it a symbol of one letter fills a screen of 120 x 40

const BlockGlyph* glyph_of(char character) {
    const auto* found = std::find_if(kBlockGlyphs.begin(), kBlockGlyphs.end(), [&](const BlockGlyph& g) { return g.character == character; });
    return found == kBlockGlyphs.end() ? nullptr : found;
}

bool dot(const BlockGlyph& glyph, int column, int row) {
    return row < kBlockDots && glyph.dots[static_cast<std::size_t>(row)][static_cast<std::size_t>(column)] == '#';
}

int dots_wide(const BlockGlyph& glyph) { return static_cast<int>(glyph.dots[0].size()); }

/// The cell of half blocks that covers dot rows `upper` and `lower` of one dot column.
char32_t half_block(bool upper, bool lower) { return upper && lower ? U'█' : upper ? U'▀' : lower ? U'▄' : U' '; }

void draw_glyph(Canvas& canvas, int x, int y, const BlockGlyph& glyph, BlockSize size, Tone tone) {
    const bool halves = canvas.characters() == CharacterSet::utf8;
    const int rows = block_rows(canvas.characters(), size);
    for (int row = 0; row < rows; ++row) {
        for (int column = 0; column < dots_wide(glyph) * size.scale; ++column) {
            const int across = column / size.scale;
            const char32_t character = halves ? half_block(dot(glyph, across, row * 2 / size.scale), dot(glyph, across, (row * 2 + 1) / size.scale))
                                              : (dot(glyph, across, row / std::max(size.scale / 2, 1)) ? U'#' : U' ');
            if (character != U' ') canvas.put(x + column, y + row, character, tone);
        }
    }
}

/// Where the quality begins: after the root letter and its accidental.
std::size_t root_length(std::string_view symbol) {
    return symbol.size() > 1 && (symbol[1] == 'b' || symbol[1] == '#') ? 2 : std::min<std::size_t>(symbol.size(), 1);
}

}  // namespace

bool has_block_letters(std::string_view symbol) {
    return std::all_of(symbol.begin(), symbol.end(), [](char c) { return glyph_of(c) != nullptr; });
}

int block_columns(std::string_view symbol, BlockSize size) {
    int dots = 0;
    for (const char character : symbol) {
        if (const BlockGlyph* glyph = glyph_of(character)) dots += dots_wide(*glyph) + 1;
    }
    return std::max(dots - 1, 0) * size.scale;
}

int block_rows(CharacterSet characters, BlockSize size) {
    return characters == CharacterSet::utf8 ? (kBlockDots * size.scale + 1) / 2 : kBlockDots * std::max(size.scale / 2, 1);
}

int draw_block(Canvas& canvas, int x, int y, std::string_view symbol, BlockSize size, Tone tone) {
    int column = x;
    for (const char character : symbol) {
        const BlockGlyph* glyph = glyph_of(character);
        if (glyph == nullptr) continue;
        draw_glyph(canvas, column, y, *glyph, size, tone);
        column += (dots_wide(*glyph) + 1) * size.scale;
    }
    return std::max(column - size.scale - x, 0);
}

int draw_chord_symbol(Canvas& canvas, int x, int y, int columns, int rows, std::string_view symbol, Tone tone) {
    const CharacterSet characters = canvas.characters();
    const std::string_view root = symbol.substr(0, root_length(symbol));
    const std::string_view quality = symbol.substr(root.size());
    if (has_block_letters(symbol)) {
        for (int scale = kLargestScale; scale >= 1; --scale) {
            const BlockSize large{scale};
            if (block_rows(characters, large) > rows) continue;
            if (block_columns(symbol, large) <= columns) {
                draw_block(canvas, x, y, symbol, large, tone);
                return block_rows(characters, large);
            }
            const BlockSize small{std::max(scale / 2, 1)};
            const int gap = 1 + small.scale;
            if (scale == 1 || block_columns(root, large) + gap + block_columns(quality, small) > columns) continue;
            const int used = draw_block(canvas, x, y, root, large, tone);
            const int drop = block_rows(characters, large) - block_rows(characters, small);
            draw_block(canvas, x + used + gap, y + drop, quality, small, tone);
            return block_rows(characters, large);
        }
    }
    canvas.text(x, y, symbol, tone, columns);
    return 1;
}

}  // namespace gripline
