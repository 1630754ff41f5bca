// The walk screen's loop: keys and sound in, pictures out.
#pragma once

#include <deque>
#include <optional>
#include <utility>

#include "base/clock.h"
#include "ui/walk_run.h"

namespace gripline {

/// How much was drawn, and how late.
class PictureCount {
public:
    void take(double now_s);
    /// The walk as it has just been drawn: a count seen for the first time came so late as it has sounded.
    void drawn(const std::optional<WalkRun::CountNow>& count);
    /// The longest time from a count's beginning, as it is heard, to its picture.
    [[nodiscard]] double latest_s() const noexcept { return latest_s_; }
    [[nodiscard]] int pictures() const noexcept { return pictures_; }
    [[nodiscard]] int most_in_a_second() const noexcept { return most_; }

private:
    std::deque<double> within_;  // the last second's
    int pictures_ = 0, most_ = 0;
    std::pair<std::size_t, int> count_{0, -1};  // drawn last
    double latest_s_ = 0.0;
};

/// Until the run is over or the display asks to stop; then a walk in hand is ended as by the key.
void walk_loop(WalkRun& run, Display& display, const Clock& clock, PictureCount& count);

}  // namespace gripline
