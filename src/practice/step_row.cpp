#include "practice/step_row.h"

#include <algorithm>
#include <numeric>

namespace gripline {

StepRow::StepRow(std::size_t steps, StepOrder order, std::uint32_t seed) : row_(steps), order_(order), random_(seed) {
    std::iota(row_.begin(), row_.end(), std::size_t{0});
    if (order == StepOrder::down) std::reverse(row_.begin(), row_.end());
    if (order == StepOrder::shuffled) shuffle();
}

std::size_t StepRow::next_step() const {
    if (place_ + 1 < row_.size()) return row_[place_ + 1];
    return order_ == StepOrder::shuffled ? row_[place_] : row_.front();
}

void StepRow::forward() {
    if (row_.empty()) return;
    if (++place_ < row_.size()) return;
    const std::size_t last = row_.back();
    place_ = 0;
    if (order_ != StepOrder::shuffled) return;
    shuffle();
    if (row_.size() > 1 && row_.front() == last) std::swap(row_.front(), row_.back());
}

void StepRow::to(std::size_t step) noexcept {
    const auto found = std::find(row_.begin(), row_.end(), step);
    if (found != row_.end()) place_ = static_cast<std::size_t>(found - row_.begin());
}

void StepRow::back() noexcept {
    if (place_ > 0) --place_;
}

// Fisher-Yates (Knuth, The Art of Computer Programming 2, 3.4.2 P) by hand: std::shuffle differs between libraries.
void StepRow::shuffle() {
    for (std::size_t left = row_.size(); left > 1; --left) std::swap(row_[left - 1], row_[random_() % left]);
}

}  // namespace gripline
