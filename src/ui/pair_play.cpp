#include "ui/pair_play.h"

#include <cmath>

namespace gripline {
namespace {

/// A click first sounds a moment after it was asked for; known exactly a tenth of a second later.
constexpr double kFirstCount_s = 0.1;
/// From this count on the beats stay where they are: a clock that is learnt so late is astray.
constexpr int kLaidBefore = kApproachCount - 1;

}  // namespace

void PairPlay::begin(const PracticeStep& approach, double tempo_bpm) {
    end();
    approach_ = approach;
    played_ = 0;
    pair_.emplace(approach, tempo_bpm, sound_.input().stream_s + kFirstCount_s);
    std::vector<PlannedClick> clicks;
    for (int count = 0; count <= kTargetCount; ++count) clicks.push_back({count * pair_->count_s(), count % 4 == 0});
    clicks_ = sound_.begin_clicks(clicks).ok();
}

void PairPlay::end() {
    if (clicks_) sound_.end_clicks();
    clicks_ = false;
    pair_.reset();
}

void PairPlay::consider(const dsp::StrumEvidence& evidence) {
    if (pair_) pair_->consider(evidence);
}

std::optional<int> PairPlay::count() const {
    if (!pair_) return std::nullopt;
    const int count = pair_->count_at(sound_.input().stream_s);
    return count < 0 ? std::nullopt : std::optional(count);
}

void PairPlay::play_along() {
    if (player_ == Player::rests || played_ == 2 || !sound_.player_is_input()) return;
    if (sound_.input().stream_s < pair_->at_s(kApproachCount + played_)) return;
    (void)sound_.play(played_ == 0 ? approach_ : *approach_.given, played_ == 0 && player_ == Player::plays_mistake);
    if (++played_ == 2) player_ = Player::rests;
}

std::optional<PairResult> PairPlay::listen() {
    if (!pair_) return std::nullopt;
    const double stream_s = sound_.input().stream_s;
    if (clicks_) {
        const auto origin_s = sound_.clicks_origin_s();
        if (origin_s && pair_->count_at(stream_s) < kLaidBefore) pair_->lay(*origin_s);
    }
    play_along();
    auto result = pair_->pass(stream_s);
    if (result) end();
    return result;
}

}  // namespace gripline
