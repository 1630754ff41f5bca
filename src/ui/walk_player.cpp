#include "ui/walk_player.h"

#include <algorithm>

namespace gripline {

namespace {

/// So far ahead the source is told: longer than the screen's thread is ever kept waiting, less than sixteen beats (the source's room).
constexpr double kToldAhead_s = 0.3;
/// The hand lets go just before the next grip (common practice).
constexpr double kHeld = 0.9;

}  // namespace

void WalkPlayer::start() {
    played_.clear();
    passage_ = beat_ = 0;
}

void WalkPlayer::play(const WalkBeat& beat, double length_s, double origin_s, WalkSound& sound) {
    PlayedBeat played;
    played.music_s = beat.at_s;
    played.off_ms = habits_.late_ms + habits_.spread_ms * std::normal_distribution<double>()(chance_);
    const Target& target = beat.target;
    if (mistake_) played.fault = likely_mistake(*target.grip, target.tuning, target.capo, static_cast<std::uint32_t>(chance_()));
    mistake_ = false;
    auto strum = plan_strum(*target.grip, target.tuning, target.capo, played.fault);
    if (!strum) return;  // a grip that sounds no string: nothing to play
    strum->a4_hz = target.a4_hz;
    strum->seed = static_cast<std::uint32_t>(chance_());
    strum->spread_s = 0.012;  // a quick wrist
    strum->ring_s = kHeld * length_s;
    if (sound.player_strums(*strum, origin_s + beat.at_s + played.off_ms / 1000.0)) played_.push_back(played);
}

void WalkPlayer::play_ahead(const WalkScore& score, const WalkSchedule& schedule, double heard_s, double origin_s, WalkSound& sound) {
    for (; passage_ < schedule.passages().size(); ++passage_, beat_ = 0) {
        const Passage& passage = schedule.passages()[passage_];
        if (passage.kind != PassageKind::chorus || !passage.judged) continue;
        const auto beats = timed_beats(score, passage.bars, passage.start_s, passage.count_s());
        for (; beat_ < beats.size(); ++beat_) {
            if (beats[beat_].at_s > heard_s + kToldAhead_s) return;
            const double next_s = beat_ + 1 < beats.size() ? beats[beat_ + 1].at_s : passage.end_s();
            if (playing_ && beats[beat_].at_s > heard_s) play(beats[beat_], next_s - beats[beat_].at_s, origin_s, sound);
        }
    }
}

}  // namespace gripline
