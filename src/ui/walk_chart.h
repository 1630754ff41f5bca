// The chart of a walk in rows of bars, the current one marked. Shared by the walk screen and its end page.
#pragma once

#include <vector>

#include "ui/canvas.h"
#include "ui/walk_view.h"

namespace gripline {

/// Bars in a row on so many columns: 8, 4, 2 or 1.
[[nodiscard]] int bars_a_row(const std::vector<BarCell>& bars, int columns);
/// Rows that the whole chart takes.
[[nodiscard]] int chart_rows(const std::vector<BarCell>& bars, int columns);
/// Draws the chart from row `first_row` of it on, at most `rows` rows.
void draw_chart(Canvas& canvas, int x, int y, int columns, int first_row, int rows, const std::vector<BarCell>& bars);
/// The first row to draw so that the current bar shows, and the row after it where there is room.
[[nodiscard]] int chart_row_to_show(const std::vector<BarCell>& bars, int columns, int rows);

}  // namespace gripline
