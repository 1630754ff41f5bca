// Pages of text: the cautions at the first start, and the help.
#pragma once

#include <string>
#include <vector>

#include "ui/canvas.h"

namespace gripline {

struct HelpView {
    std::string title;
    std::vector<std::string> paragraphs;  ///< an empty one is an empty line
    int page = 0;                         ///< from 0
    std::string leads_to = "practice";    ///< where the last page leads
};

/// Hearing and hands: what the player should know before the first note.
[[nodiscard]] std::vector<std::string> caution_paragraphs();
/// What the program does, the cautions, the keys.
[[nodiscard]] HelpView practice_help();
[[nodiscard]] HelpView first_start_help();

/// How many pages the text takes on a canvas of that size; at least 1.
[[nodiscard]] int help_pages(const HelpView& view, int columns, int rows);
/// Draws one page; a page beyond the last shows the last.
void draw_help(Canvas& canvas, const HelpView& view);

}  // namespace gripline
