// The order in which the steps of an exercise are asked, round after round.
#pragma once

#include <cstddef>
#include <cstdint>
#include <random>
#include <vector>

#include "practice/exercise.h"

namespace gripline {

class StepRow {
public:
    /// `steps`: how many there are. The same seed gives the same shuffles.
    StepRow(std::size_t steps, StepOrder order, std::uint32_t seed);
    [[nodiscard]] bool empty() const noexcept { return row_.empty(); }
    /// The step asked now, 0 = the lowest. Only when not empty.
    [[nodiscard]] std::size_t step() const { return row_[place_]; }
    /// Its place in this round, from 0.
    [[nodiscard]] std::size_t place() const noexcept { return place_; }
    /// The step that comes next, where it is in this round; at the end of a round the first of an unshuffled row, else this one.
    [[nodiscard]] std::size_t next_step() const;
    void forward();
    /// To that step, wherever it is in this round.
    void to(std::size_t step) noexcept;
    /// To the step before; at the beginning of a round it stays.
    void back() noexcept;

private:
    void shuffle();

    std::vector<std::size_t> row_;
    std::size_t place_ = 0;
    StepOrder order_;
    std::mt19937 random_;
};

}  // namespace gripline
