#include "practice/walk_along.h"

#include <algorithm>
#include <cmath>
#include <iterator>

namespace gripline {

namespace {

/// So long after its first string a strum is known at the latest: the first evidence comes 0.10 s after it (kStepsS), and the chain's windows
/// and the hops of the source add less than 0.1 s. Longer only makes "unheard" come later.
constexpr double kNewsBehind_s = 0.3;

}  // namespace

WalkAlong::WalkAlong(std::vector<WalkBeat> beats, double count_s, const JudgeConfig& judge)
    : judge_(judge) {
    extend(std::move(beats), count_s);
}

void WalkAlong::extend(std::vector<WalkBeat> beats, double count_s) {
    beats_.insert(beats_.end(), std::make_move_iterator(beats.begin()), std::make_move_iterator(beats.end()));
    for (std::size_t i = half_s_.size(); i < beats_.size(); ++i) half_s_.push_back(count_s * beats_[i].share / 2.0);
    settled_.resize(beats_.size(), false);
    for (std::size_t i = results_.size(); i < beats_.size(); ++i) results_.push_back({.index = i, .verdict = {}, .any_strum = false, .off_ms = {}});
}

void WalkAlong::shift(double by_s) {
    for (WalkBeat& beat : beats_) beat.at_s += by_s;
    past_s_ += by_s;
}

std::optional<std::size_t> WalkAlong::beat_at(double onset_s) const {
    const auto after = std::lower_bound(beats_.begin(), beats_.end(), onset_s, [](const WalkBeat& beat, double at_s) { return beat.at_s < at_s; });
    std::optional<std::size_t> nearest;
    double distance_s = 1e300;
    for (auto each = after == beats_.begin() ? after : after - 1; each != beats_.end() && each <= after; ++each) {
        const auto place = static_cast<std::size_t>(each - beats_.begin());
        const double off_s = std::abs(each->at_s - onset_s);
        if (off_s > half_s_[place] || off_s > distance_s) continue;
        distance_s = off_s;
        nearest = place;
    }
    return nearest;
}

void WalkAlong::begin(const dsp::StrumEvidence& evidence) {
    strum_ = evidence.strum;
    in_hand_.reset();
    past_s_ = std::max(past_s_, evidence.onset_s);
    if (evidence.step != 0 || beats_.empty()) return;
    const auto place = beat_at(evidence.onset_s);
    if (place && *place >= given_ && !settled_[*place]) {
        in_hand_ = place;
        judge_.ask(beats_[*place].target);
    } else if (place || (evidence.onset_s > beats_.front().at_s && evidence.onset_s < beats_.back().at_s)) {
        ++strums_between_;
    }
}

void WalkAlong::consider(const dsp::StrumEvidence& evidence) {
    if (evidence.strum != strum_) begin(evidence);
    pass(evidence.heard_s);
    if (!in_hand_) return;
    auto verdict = judge_.consider(evidence);
    if (!verdict && evidence.last) verdict = judge_.verdict_now(evidence);
    if (!verdict) return;
    BeatResult& result = results_[*in_hand_];
    result.any_strum = true;
    result.verdict = std::move(*verdict);
    if (result.verdict.kind != VerdictKind::unheard) {
        settled_[*in_hand_] = true;
        result.off_ms = 1000.0 * (result.verdict.onset_s - beats_[*in_hand_].at_s);
    }
    in_hand_.reset();
}

void WalkAlong::pass(double stream_s) { past_s_ = std::max(past_s_, stream_s - kNewsBehind_s); }

void WalkAlong::finish(double stream_s) {
    in_hand_.reset();
    past_s_ = std::max(past_s_, stream_s);
}

std::optional<BeatResult> WalkAlong::next() {
    if (done() || in_hand_ == given_) return std::nullopt;
    if (!settled_[given_] && past_s_ <= beats_[given_].at_s + half_s_[given_]) return std::nullopt;
    return results_[given_++];
}

}  // namespace gripline
