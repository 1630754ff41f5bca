// The practice screen for small terminals. Private to practice_screen.cpp.
#pragma once

#include "ui/canvas.h"
#include "ui/practice_view.h"

namespace gripline {

/// Gives the rows there are to what matters most: verdict, what is asked, then the rest.
void draw_practice_reduced(Canvas& canvas, const PracticeView& view);

}  // namespace gripline
