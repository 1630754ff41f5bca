#include "practice/muted_gestures.h"

#include <algorithm>
#include <cmath>

namespace gripline {
namespace {

constexpr std::size_t kMost = 3;  // in one gesture

double apart_db(const dsp::MutedStrum& a, const dsp::MutedStrum& b) {
    double sum = 0.0;
    for (std::size_t band = 0; band < dsp::kMutedBands; ++band) sum += std::abs(static_cast<double>(a.shape_db[band] - b.shape_db[band]));
    return sum / static_cast<double>(dsp::kMutedBands);
}

}  // namespace

/// In time with those in hand, and like the one before.
bool MutedGestures::follows(const dsp::MutedStrum& strum) const {
    const dsp::MutedStrum& last = row_.back();
    const double gap_s = strum.at_s - last.at_s;
    if (gap_s < config_.shortest_gap_s || gap_s > config_.longest_gap_s) return false;
    if (row_.size() > 1) {
        const double before_s = last.at_s - row_[row_.size() - 2].at_s;
        if (std::max(gap_s, before_s) > config_.uneven * std::min(gap_s, before_s)) return false;
    }
    return std::abs(strum.level_db - last.level_db) <= config_.levels_apart_db && apart_db(strum, last) <= config_.shapes_apart_db;
}

void MutedGestures::muted(const dsp::MutedStrum& strum) {
    if (!strum.muted) {
        const bool soft = !row_.empty() && strum.level_db < row_.back().level_db - config_.levels_apart_db;
        if (!soft) other(strum.at_s);
        return;
    }
    if (row_.empty()) {
        spoilt_ = strum.at_s - last_strum_s_ < config_.pause_s;
    } else if (!follows(strum)) {
        spoilt_ = true;
    }
    row_.push_back(strum);
    if (row_.size() > kMost) {
        spoilt_ = true;
        row_.erase(row_.begin());
    }
}

void MutedGestures::strum(double at_s) {
    if (!holds(at_s)) other(at_s);
}

/// Something else sounded.
void MutedGestures::other(double at_s) {
    if (!row_.empty()) spoilt_ = true;
    last_strum_s_ = std::max(last_strum_s_, at_s);
}

double MutedGestures::over_at_s() const {
    const double last_s = row_.back().at_s;
    if (row_.size() < 2) return last_s + config_.longest_gap_s;
    return last_s + std::min(config_.longest_gap_s, config_.wait_gaps * (last_s - row_[row_.size() - 2].at_s));
}

std::optional<int> MutedGestures::pass(double decided_s) {
    if (row_.empty() || decided_s <= over_at_s()) return std::nullopt;
    const bool gesture = !spoilt_ && row_.size() > 1;
    const auto count = static_cast<int>(row_.size());
    last_strum_s_ = std::max(last_strum_s_, row_.back().at_s);
    row_.clear();
    spoilt_ = false;
    return gesture ? std::optional(count) : std::nullopt;
}

bool MutedGestures::holds(double at_s) const {
    return std::any_of(row_.begin(), row_.end(), [&](const dsp::MutedStrum& each) { return std::abs(each.at_s - at_s) <= kSameStart_s; });
}

void MutedGestures::forget() {
    row_.clear();
    spoilt_ = false;
    last_strum_s_ = -1e9;
}

}  // namespace gripline
