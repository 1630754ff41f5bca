// A grid of cells that a screen is drawn on. Pure: no terminal, no locale. The terminal shows it, tests print it as text.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace gripline {

/// What a piece of text is for. Terminals choose colours and weight by it; the words alone must say everything.
enum class Tone { plain, quiet, strong, heading, good, bad, warning };

/// What the terminal can show. `ascii` holds nothing outside 32 to 126.
enum class CharacterSet { utf8, ascii };

struct Cell {
    char32_t character = U' ';
    Tone tone = Tone::plain;
    friend bool operator==(const Cell&, const Cell&) = default;
};

/// columns x rows cells, each one column wide. Drawing outside the grid is cut off, never an error.
class Canvas {
public:
    /// Negative sizes are taken as 0.
    Canvas(int columns, int rows, CharacterSet characters);

    [[nodiscard]] int columns() const noexcept { return columns_; }
    [[nodiscard]] int rows() const noexcept { return rows_; }
    [[nodiscard]] CharacterSet characters() const noexcept { return characters_; }
    /// The cell at column x, row y, both from 0 and inside the grid.
    [[nodiscard]] const Cell& cell(int x, int y) const;

    /// Sets one cell. Control characters and characters that are not one column wide become '?'; on an ASCII canvas lines and
    /// blocks become '-', '|', '+', '#' and letters outside ASCII '?'.
    void put(int x, int y, char32_t character, Tone tone = Tone::plain);
    /// Writes UTF-8 text on one row and returns the columns used. Text longer than `limit` columns (negative: the grid's edge)
    /// is cut and ends in '~'. Broken UTF-8 becomes '?'.
    int text(int x, int y, std::string_view utf8, Tone tone = Tone::plain, int limit = -1);
    /// Writes text so that it ends just before column `end_x`.
    void text_right(int end_x, int y, std::string_view utf8, Tone tone = Tone::plain);
    /// A horizontal line over `length` cells.
    void rule(int x, int y, int length, Tone tone = Tone::quiet);

    /// Row y as UTF-8, spaces at its end left out.
    [[nodiscard]] std::string row_text(int y) const;
    /// All rows, each ended by a line feed.
    [[nodiscard]] std::string text() const;

    friend bool operator==(const Canvas&, const Canvas&) = default;

private:
    int columns_;
    int rows_;
    CharacterSet characters_;
    std::vector<Cell> cells_;  // row after row
};

}  // namespace gripline
