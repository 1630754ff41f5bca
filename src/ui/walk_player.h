// The built-in player as one who walks along: so that a walk can be tried without a guitar.
#pragma once

#include <optional>
#include <random>
#include <vector>

#include "practice/walk_schedule.h"
#include "ui/walk_sound.h"

namespace gripline {

struct WalkPlayerHabits {
    double late_ms = 0.0;    ///< on the mean; early is negative
    double spread_ms = 8.0;  ///< standard deviation: a steady player
    std::uint32_t seed = 1;
};

/// What the player did on a beat.
struct PlayedBeat {
    double music_s = 0.0;  ///< of the beat
    double off_ms = 0.0;
    std::optional<PlannedFault> fault;
};

class WalkPlayer {
public:
    explicit WalkPlayer(const WalkPlayerHabits& habits = {}) : habits_(habits), chance_(habits.seed) {}

    /// A new walk begins.
    void start();
    /// Tells the player's source the strums that come next, in choruses that are judged.
    void play_ahead(const WalkScore& score, const WalkSchedule& schedule, double heard_s, double origin_s, WalkSound& sound);
    /// Rests, and goes on.
    void set_playing(bool playing) noexcept { playing_ = playing; }
    [[nodiscard]] bool playing() const noexcept { return playing_; }
    /// The next beat is played with a likely mistake.
    void mistake_next() noexcept { mistake_ = true; }
    /// Of this walk.
    [[nodiscard]] const std::vector<PlayedBeat>& played() const noexcept { return played_; }

private:
    void play(const WalkBeat& beat, double length_s, double origin_s, WalkSound& sound);

    WalkPlayerHabits habits_;
    std::mt19937 chance_;
    std::vector<PlayedBeat> played_;
    std::size_t passage_ = 0, beat_ = 0;  // next one
    bool playing_ = true, mistake_ = false;
};

}  // namespace gripline
