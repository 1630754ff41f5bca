// The walk screen's loop: keys and sound in, pictures out.
#pragma once

#include <deque>

#include "base/clock.h"
#include "ui/walk_run.h"

namespace gripline {

/// How much was drawn.
class PictureCount {
public:
    void take(double now_s);
    [[nodiscard]] int pictures() const noexcept { return pictures_; }
    [[nodiscard]] int most_in_a_second() const noexcept { return most_; }

private:
    std::deque<double> within_;  // the last second's
    int pictures_ = 0, most_ = 0;
};

/// Until the run is over or the display asks to stop; then a walk in hand is ended as by the key.
void walk_loop(WalkRun& run, Display& display, const Clock& clock, PictureCount& count);

}  // namespace gripline
