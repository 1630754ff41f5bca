// Text pictures kept in fixtures/goldens.
#pragma once

#include <string>
#include <utility>

#include "ui/canvas.h"

namespace gripline::test {

/// Compares `text` with fixtures/goldens/NAME.txt and fails the running test when they differ or the file is missing. With
/// GRIPLINE_UPDATE_GOLDENS=1 in the environment the file is written instead, for a person to look at before it is committed.
void check_golden(const std::string& name, const std::string& text);

/// All rows of a canvas as one line of words: what is broken into rows can be looked for.
inline std::string words_of(const Canvas& canvas) {
    std::string out;
    for (const char each : canvas.text())
        if (const char c = each == '\n' ? ' ' : each; c != ' ' || out.empty() || out.back() != ' ') out += c;
    return out;
}

/// The sizes of every screen, 80x24, 120x40 and 40x12: `draw` fills each canvas, which must be as NAME-COLUMNSxROWS and `ending` have it.
template <class Draw>
void check_three_sizes(const std::string& name, CharacterSet characters, const std::string& ending, Draw draw) {
    for (const auto& [columns, rows] : {std::pair{80, 24}, {120, 40}, {40, 12}}) {
        Canvas canvas(columns, rows, characters);
        draw(canvas);
        check_golden(name + "-" + std::to_string(columns) + "x" + std::to_string(rows) + ending, canvas.text());
    }
}

}  // namespace gripline::test
