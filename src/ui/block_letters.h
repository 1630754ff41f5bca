// Chord symbols in large letters made of blocks: seven dots high, our own shapes, read from two metres.
#pragma once

#include <string_view>

#include "ui/canvas.h"

namespace gripline {

/// Dots in height of every letter.
inline constexpr int kBlockDots = 7;

/// How a dot becomes cells. With UTF-8 two dots share a cell in height (half blocks); in ASCII a dot is one '#' high.
struct BlockSize {
    int scale = 1;  ///< cells a dot is wide, 1 or more
};

/// True when every character has a block letter: A-G, a d g h i j l m n o s t u b # 0-9 / ( ) + - and space.
[[nodiscard]] bool has_block_letters(std::string_view symbol);
/// Columns that `symbol` takes, without a gap after it; 0 for an empty one.
[[nodiscard]] int block_columns(std::string_view symbol, BlockSize size);
/// Rows that any symbol takes.
[[nodiscard]] int block_rows(CharacterSet characters, BlockSize size);
/// Draws `symbol` with its top left at (x, y) and returns the columns used. Characters without a block letter are left out.
int draw_block(Canvas& canvas, int x, int y, std::string_view symbol, BlockSize size, Tone tone);

/// Draws a chord symbol as large as `columns` x `rows` allow: all of it large, or the root large and the quality small, or all small,
/// or plain text where even that is too wide. Returns the rows used.
int draw_chord_symbol(Canvas& canvas, int x, int y, int columns, int rows, std::string_view symbol, Tone tone);

}  // namespace gripline
