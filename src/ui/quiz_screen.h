// The quiz screen: a view struct in, a canvas out.
#pragma once

#include "ui/canvas.h"
#include "ui/quiz_view.h"

namespace gripline {

/// Draws the view over the whole canvas; whatever the size, what to do and the time left come first.
void draw_quiz(Canvas& canvas, const QuizView& view);

}  // namespace gripline
