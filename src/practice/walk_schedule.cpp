#include "practice/walk_schedule.h"

#include <algorithm>
#include <cmath>

namespace gripline {

std::size_t WalkSchedule::add(Passage passage) {
    passage.start_s = end_s();
    passages_.push_back(passage);
    return passages_.size() - 1;
}

void WalkSchedule::drop_from(double at_s) {
    while (!passages_.empty() && passages_.back().start_s >= at_s) passages_.pop_back();
}

std::optional<WalkSchedule::Place> WalkSchedule::place(double at_s) const noexcept {
    if (passages_.empty() || at_s < 0.0 || at_s >= end_s()) return std::nullopt;
    const auto after = std::upper_bound(passages_.begin(), passages_.end(), at_s, [](double at, const Passage& p) { return at < p.start_s; });
    const auto index = static_cast<std::size_t>(after - passages_.begin()) - 1;
    const Passage& passage = passages_[index];
    double counts = (at_s - passage.start_s) / passage.count_s();
    if (!passage.places.empty()) {
        const auto begun = std::upper_bound(passage.places.begin(), passage.places.end() - 1, counts) - 1;
        counts = static_cast<double>(begun - passage.places.begin()) + (counts - *begun) / (*(begun + 1) - *begun);
    }
    const int count = std::clamp(static_cast<int>(std::floor(counts)), 0, passage.counts - 1);
    return Place{index, count, std::clamp(counts - count, 0.0, 1.0)};
}

}  // namespace gripline
