// Chord symbols in the terms of MusicXML 4.0's harmony element.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "theory/chord_symbol.h"

namespace gripline {

/// A degree that the kind does not hold as the chord does.
struct HarmonyDegree {
    int number = 1;
    int alteration = 0;   ///< against the major scale's degree, but the seventh against the minor seventh as the standard has it
    std::string type;     ///< "add", "alter", "subtract"
};
struct HarmonyKind {
    std::string kind;     ///< a kind-value of the standard: "dominant", "minor-seventh"
    std::string text;     ///< the quality as the chart writes it: "m7b5"
    std::vector<HarmonyDegree> degrees;
};

/// The nearest kind, and the degrees that make up the difference.
[[nodiscard]] HarmonyKind harmony_kind(const ChordSymbol& chord);

/// The other way: the chord of a root, kind, degrees and bass. Its symbol is root and `text` when these say the same chord, otherwise this project's own way of
/// writing it. Errors name the kind, the degree, or what can't be written as a chord symbol.
[[nodiscard]] Result<ChordSymbol> chord_of_harmony(NoteName root, const HarmonyKind& harmony, const std::optional<NoteName>& bass);

}  // namespace gripline
