#include "ui/click_track.h"

#include <algorithm>
#include <cmath>

namespace gripline {
namespace {

/// Written ahead: the screen's thread may be kept waiting for so long without a gap, as in a walk.
constexpr double kAhead_s = 0.4;

}  // namespace

bool ClickTrack::begin(const std::vector<PlannedClick>& clicks) {
    end();
    band_.reset();
    for (const PlannedClick& click : clicks)
        if (!band_.click(static_cast<std::uint64_t>(std::llround(std::max(click.at_s, 0.0) * output_.rate_hz())), click.accent ? Click::accent : Click::weak)) return false;
    clock_.reset();
    from_ = output_.written_frames();
    gaps_ = output_.starved_frames();
    runs_ = true;
    keep_going();
    output_.expect_sound(true);
    return true;
}

void ClickTrack::keep_going() {
    if (!runs_) return;
    const auto ahead = static_cast<std::size_t>(kAhead_s * output_.rate_hz());
    const std::size_t waiting = std::min(ahead, output_.waiting_frames());
    block_.resize(ahead - waiting);
    band_.process(block_);
    if (!block_.empty()) (void)output_.play(block_);
    if (const std::uint64_t gaps = output_.starved_frames(); gaps != gaps_) {
        gaps_ = gaps;
        clock_.reset();  // all that follows is later than it was planned
    }
    if (const auto stamp = output_.stamp(); stamp && stamp->frame >= from_) clock_.take(*stamp);
}

std::optional<double> ClickTrack::heard_s(double now_s) const {
    if (!runs_ || !clock_.ready()) return std::nullopt;
    return (clock_.frame_at(now_s) - static_cast<double>(from_)) / output_.rate_hz();
}

void ClickTrack::end() {
    if (!runs_) return;
    runs_ = false;
    output_.expect_sound(false);
    output_.hush();
}

}  // namespace gripline
