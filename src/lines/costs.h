// What makes a line dear. The search finds the cheapest line that keeps the rules; every cost has a name and can be set.
#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <string>
#include <string_view>

#include "base/result.h"

namespace gripline {

/// The costs, in the order of cost_rows().
enum class Cost { hand_travel, stretch, bass_leap, standing_still, region, turn, strong_beat, repeated_bar, octave_leap, other_strings, other_bass, slash_bass, opening };
inline constexpr std::size_t kCosts = 13;
/// The most that one cost may be set to.
inline constexpr double kMostCost = 1000.0;

/// A cost's name, what it counts, and its usual value. The usual values are our own choice, made by reading the lines that they give
/// over the charts of the library; nobody has played them. One fret of hand travel is the measure. No source.
/// Roots: over the 21 charts of the library in 12 keys 46 % of chords begin on their root with other-bass 1, 55 % with 2 (the other costs
/// of a beat rise from 1.93 to 1.97), 64 % with 3 (2.04); 113 of these 252 lines open on it with opening 0, 247 with 3, all with 5.
/// slash-bass is as dear as 200 frets of hand travel: what the composer wrote is had wherever the neck has it.
struct CostRow {
    std::string_view name;
    double usual;
    std::string_view per;  ///< "fret that the hand moves"
};
[[nodiscard]] std::span<const CostRow, kCosts> cost_rows() noexcept;

/// The costs in force, in hundredths, so that sums are exact.
class Costs {
public:
    Costs();  ///< the usual ones
    [[nodiscard]] std::int64_t hundredths(Cost cost) const noexcept { return values_[static_cast<std::size_t>(cost)]; }
    /// Sets a cost, rounded to hundredths; an error when it is not 0 to kMostCost.
    [[nodiscard]] Result<Costs> with(std::string_view name, double value) const;
    /// Sets costs by text: "turn=3" or "turn=3,stretch=0.5".
    [[nodiscard]] Result<Costs> with(std::string_view settings) const;

private:
    std::array<std::int64_t, kCosts> values_{};
};

/// What each cost adds, in hundredths.
struct CostItems {
    std::array<std::int64_t, kCosts> hundredths{};

    void add(Cost cost, std::int64_t amount) noexcept { hundredths[static_cast<std::size_t>(cost)] += amount; }
    [[nodiscard]] std::int64_t total() const noexcept;
    /// "hand travel 2, turn 1.5", or "nothing".
    [[nodiscard]] std::string text() const;
};

}  // namespace gripline
