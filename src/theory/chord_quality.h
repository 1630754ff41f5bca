// The table of chord qualities: which degrees each holds, how charts write it and what its label is.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "theory/interval.h"

namespace gripline {

/// Which family of chart symbols a quality belongs to; decides the scale that serves it (serving.h). Suspended: a fourth in place of the third,
/// with or without a seventh.
enum class Serves { major, minor, minor_seventh, half_diminished, dominant, flat_five, altered, suspended, diminished };

/// One row. All text has static storage.
struct ChordQuality {
    std::string_view suffix;   ///< how this project writes it after the root: "m7b5"; "" for a major triad
    std::string_view harte;    ///< shorthand label, or "" where the 2005 table has none
    std::string_view degrees;  ///< from the root up: "1 b3 b5 b7"
    Serves serves;
    std::string_view source;   ///< where the degrees come from
};

/// A way of writing a quality on a chart.
struct ChordSpelling {
    std::string_view written;  ///< after normalising signs: triangle is "^", half-diminished "%", degree sign "o", minus "-"
    std::string_view suffix;   ///< the row of the table it means
};

[[nodiscard]] std::span<const ChordQuality> chord_qualities() noexcept;
[[nodiscard]] std::span<const ChordSpelling> chord_spellings() noexcept;
/// The degrees of a row, root first.
[[nodiscard]] std::vector<Interval> degrees_of(const ChordQuality& quality);
/// The row with this suffix, or nullptr.
[[nodiscard]] const ChordQuality* quality_by_suffix(std::string_view suffix) noexcept;
/// The row with this Harte shorthand ("maj6"), or nullptr.
[[nodiscard]] const ChordQuality* quality_by_harte(std::string_view shorthand) noexcept;
/// The row that holds exactly these degrees, or nullptr.
[[nodiscard]] const ChordQuality* quality_by_degrees(std::span<const Interval> degrees);

}  // namespace gripline
