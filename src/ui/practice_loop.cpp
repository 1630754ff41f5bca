// Keys and sound in, pictures out. The second half of practice_app.h.
#include "ui/practice_app.h"

namespace gripline {
namespace {

/// How long the loop waits for a key before it looks at the sound again: a verdict is on screen within this and a redraw.
constexpr int kKeyWait_ms = 8;
/// Pictures at most 30 a second; those that change the level alone at most 15, which leaves room for a verdict at once.
constexpr double kPictureEvery_s = 1.0 / 30.0;
constexpr double kLevelEvery_s = 1.0 / 15.0;

}  // namespace

void practice_loop(PracticeRun& run, Display& display, const Clock& clock) {
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
        const double since_s = now_s - drawn_s;
        if (!resized && since_s < (news ? kPictureEvery_s : kLevelEvery_s)) continue;
        Canvas canvas(display.columns(), display.rows(), display.characters());
        run.draw(canvas, now_s);
        drawn_s = now_s;
        news = false;
        if (canvas == shown) continue;
        display.show(canvas);
        shown = std::move(canvas);
    }
}

}  // namespace gripline
