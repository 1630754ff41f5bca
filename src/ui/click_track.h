// Clicks sounded in time through an output, and where they lie on the machine's clock.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "audio/accompaniment.h"
#include "audio/output_player.h"
#include "audio/stream_clock.h"
#include "ui/practice_sound.h"

namespace gripline {

class ClickTrack {
public:
    /// `output` must outlive it, and must be there.
    explicit ClickTrack(OutputPlayer& output) : output_(output), band_(output.rate_hz()), clock_(output.rate_hz()) {}

    /// Hushes what plays and clicks from now on. False when there are more than an accompaniment plans.
    bool begin(const std::vector<PlannedClick>& clicks);
    /// Writes ahead what is due, and looks at the output's clock.
    void keep_going();
    /// The clicks' second that is heard at `now_s` (SteadyClock); nothing until the clock is known.
    [[nodiscard]] std::optional<double> heard_s(double now_s) const;
    void end();
    [[nodiscard]] bool runs() const noexcept { return runs_; }

private:
    OutputPlayer& output_;
    Accompaniment band_;
    StreamClock clock_;
    std::vector<float> block_;
    std::uint64_t from_ = 0, gaps_ = 0;
    bool runs_ = false;
};

}  // namespace gripline
