#include "ui/walk_loop.h"

#include <algorithm>

#include "ui/live_loop.h"

namespace gripline {

void PictureCount::take(double now_s) {
    ++pictures_;
    within_.push_back(now_s);
    while (now_s - within_.front() >= 1.0) within_.pop_front();
    most_ = std::max(most_, static_cast<int>(within_.size()));
}

void PictureCount::drawn(const std::optional<WalkRun::CountNow>& count) {
    const std::pair<std::size_t, int> now = count ? std::pair(count->passage, count->count) : std::pair<std::size_t, int>(0, -1);
    if (count && now != count_) latest_s_ = std::max(latest_s_, count->since_s);
    count_ = now;
}

void walk_loop(WalkRun& run, Display& display, const Clock& clock, PictureCount& count) {
    constexpr double kLevelEvery_s = 1.0 / 10.0;
    live_loop(run, display, clock, kLevelEvery_s, [&](double now_s) {
        count.drawn(run.count_now());
        count.take(now_s);
    });
    if (!run.over()) run.press({'q', SpecialKey::none}, clock.now_s(), display.columns(), display.rows());
}

}  // namespace gripline
