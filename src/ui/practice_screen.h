// The practice screen: a view struct in, a canvas out.
#pragma once

#include "ui/canvas.h"
#include "ui/practice_view.h"

namespace gripline {

/// Draws the view over the whole canvas: everything from 72 x 22 on, a reduced view below, down to a single row of words.
void draw_practice(Canvas& canvas, const PracticeView& view);

}  // namespace gripline
