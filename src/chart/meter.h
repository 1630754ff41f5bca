// Meter: how a bar is counted, and which counts are strong.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace gripline {

/// A time signature of a chart: 4/4, 3/4, 2/2, 5/4 or 6/8. Counts are what a step of a line falls on: quarter notes (also in 2/2,
/// where a rhythm guitar still strikes four), eighth notes in 6/8.
struct Meter {
    int beats = 4;  ///< the upper number
    int unit = 4;   ///< the lower number

    /// Reads "3/4"; an error names the meters that there are.
    static Result<Meter> parse(std::string_view text);
    [[nodiscard]] std::string text() const { return std::to_string(beats) + "/" + std::to_string(unit); }
    /// Counts of a bar: 4, 3, 4, 5, 6.
    [[nodiscard]] int counts() const noexcept { return unit == 2 ? 2 * beats : beats; }
    /// The strong counts from 1: 1 and 3 of four, 1 of three, 1 and 4 of five (3 + 2) and six (common practice, no source).
    [[nodiscard]] std::vector<int> strong_counts() const;
    friend bool operator==(const Meter&, const Meter&) = default;
};

}  // namespace gripline
