// Which scale serves which chord of a chart. The first answer is the default; it is shown, and the player may change it.
#pragma once

#include <string>
#include <vector>

#include "theory/chord_symbol.h"
#include "theory/family.h"

namespace gripline {

/// A scale for a chord.
struct Serving {
    NoteName root;       ///< of the scale: C for Am7
    Family family = Family::major_sixth;
    std::string reason;  ///< for the screen: "major sixth on its minor third (Am7 holds the notes of C6)"

    /// "C major sixth".
    [[nodiscard]] std::string text() const { return root.text() + " " + std::string(name(family)); }
};

/// All that serve the chord, the default first; never empty. Common practice, no source. A slash bass does not change the scale.
[[nodiscard]] std::vector<Serving> servings(const ChordSymbol& chord);
/// The default.
[[nodiscard]] inline Serving serving(const ChordSymbol& chord) { return servings(chord).front(); }

}  // namespace gripline
