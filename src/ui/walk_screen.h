// Draws the walk screen and the page at its end. Pure: view to canvas.
#pragma once

#include "ui/canvas.h"
#include "ui/walk_view.h"

namespace gripline {

/// Any size; small ones leave out what matters least.
void draw_walk(Canvas& canvas, const WalkView& view);

void draw_walk_end(Canvas& canvas, const WalkEndView& view);
/// How far the end page can be scrolled on a canvas of that size.
[[nodiscard]] int walk_end_scrolls(const WalkEndView& view, int columns, int rows);

}  // namespace gripline
