// The progress screen that runs: a mark that moves, cells that open.
#pragma once

#include "ui/progress_screen.h"
#include "ui/terminal.h"

namespace gripline {

/// Keys in, pictures out; no terminal of its own.
class ProgressRun {
public:
    ProgressRun(ProgressSource source, std::string notice, const std::string& leave = "q quit");

    /// False: the player wants to leave (q, or Escape where everything is shown).
    bool press(const KeyPress& key);
    void draw(Canvas& canvas) const { draw_progress(view_, canvas); }
    [[nodiscard]] const ProgressView& view() const noexcept { return view_; }

private:
    void move(int across, int down);
    void open();
    void show(const ProgressPart& part);

    ProgressSource source_;
    ProgressView view_;
    std::vector<std::pair<ProgressPart, ProgressMark>> before_;
};

/// Until the player leaves or a signal comes.
void progress_loop(ProgressRun& run, Display& display);

}  // namespace gripline
