#include "ui/walk_loop.h"

#include <algorithm>

namespace gripline {
namespace {

/// As in practice: the wait for a key, pictures at most 30 a second, those that change the level alone at most 10.
constexpr int kKeyWait_ms = 8;
constexpr double kPictureEvery_s = 1.0 / 30.0;
constexpr double kLevelEvery_s = 1.0 / 10.0;

}  // namespace

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
    Canvas shown(0, 0, display.characters());
    double drawn_s = -1.0;
    bool news = true;
    while (!run.over() && !display.asked_to_stop()) {
        if (const auto key = display.key(kKeyWait_ms)) {
            run.press(*key, clock.now_s(), display.columns(), display.rows());
            news = true;
        }
        const double now_s = clock.now_s();
        news = run.listen(now_s) || news;
        const bool resized = display.columns() != shown.columns() || display.rows() != shown.rows();
        if (!resized && now_s - drawn_s < (news ? kPictureEvery_s : kLevelEvery_s)) continue;
        Canvas canvas(display.columns(), display.rows(), display.characters());
        run.draw(canvas, now_s);
        drawn_s = now_s;
        news = false;
        if (canvas == shown) continue;
        display.show(canvas);
        count.drawn(run.count_now());
        count.take(now_s);
        shown = std::move(canvas);
    }
    if (!run.over()) run.press({'q', SpecialKey::none}, clock.now_s(), display.columns(), display.rows());
}

}  // namespace gripline
