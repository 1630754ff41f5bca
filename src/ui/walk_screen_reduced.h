// The walk screen where rows or columns are few: what matters least gives way first.
#pragma once

#include "ui/canvas.h"
#include "ui/walk_view.h"

namespace gripline {

void draw_walk_reduced(Canvas& canvas, const WalkView& view);

}  // namespace gripline
