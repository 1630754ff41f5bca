// What chords are called: in plain letters, on another root, over a bass of their own letters.
#pragma once

#include <string>
#include <string_view>

#include "theory/chord_symbol.h"
#include "theory/serving.h"

namespace gripline {

/// A chart symbol in the letters and signs of a plain keyboard, as the trade writes them: "Cmaj7" for a triangle, "F#m7b5", "Bb7", "Cdim7". What is
/// plain already, and what is no chart symbol, comes back as it is.
[[nodiscard]] std::string plain_chord_text(std::string_view written);
/// The chord on another root, its quality as written, without a slash bass: "B-7" for C-7/Bb on B.
[[nodiscard]] std::string text_on(const ChordSymbol& chord, NoteName root);
/// A bass spelled by the chord's own letters: over Gb7 Fb, over Dbm7 Ab, but A rather than Bbb; a diminished seventh's without Cb and Fb (common practice, no source).
[[nodiscard]] NoteName spelled_bass(const ChordSymbol& chord, PitchClass note);
/// The chord that the shells of a scale hold: "C6".
[[nodiscard]] std::string played_chord(const Serving& scale);

}  // namespace gripline
