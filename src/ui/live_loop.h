// The loop of a screen that listens: keys and sound in, pictures out.
#pragma once

#include <utility>

#include "base/clock.h"
#include "ui/canvas.h"
#include "ui/terminal.h"

namespace gripline {

/// Until the run is over or the display asks to stop. Pictures come at most 30 a second; while neither key nor sound brought news, those that
/// change a level alone, every `level_every_s`. `picture_shown(now_s)` is called after each picture.
/// Run: over(), press(key, now_s, columns, rows), listen(now_s) (true: news), draw(canvas, now_s).
template <class Run, class PictureShown>
void live_loop(Run& run, Display& display, const Clock& clock, double level_every_s, PictureShown&& picture_shown) {
    constexpr int kKeyWait_ms = 8;  // before it looks at the sound again: a verdict is on screen within this and a redraw
    constexpr double kPictureEvery_s = 1.0 / 30.0;
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
        if (!resized && now_s - drawn_s < (news ? kPictureEvery_s : level_every_s)) continue;
        Canvas canvas(display.columns(), display.rows(), display.characters());
        run.draw(canvas, now_s);
        drawn_s = now_s;
        news = false;
        if (canvas == shown) continue;
        display.show(canvas);
        picture_shown(now_s);
        shown = std::move(canvas);
    }
}

}  // namespace gripline
