// Keys and sound in, pictures out. The second half of practice_app.h.
#include "ui/live_loop.h"
#include "ui/practice_app.h"

namespace gripline {

void practice_loop(PracticeRun& run, Display& display, const Clock& clock) {
    constexpr double kLevelEvery_s = 1.0 / 15.0;  // leaves room for a verdict at once
    live_loop(run, display, clock, kLevelEvery_s, [](double) {});
}

}  // namespace gripline
