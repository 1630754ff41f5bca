// Chord symbols: as charts write them ("Cm7b5", "C-7", "F#7alt/A#") and as labels of Harte et al. 2005 ("C:maj6/3").
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "theory/chord_quality.h"
#include "theory/spelling.h"

namespace gripline {

/// A chord as read: root, degrees above it, and a bass where one was written.
struct ChordSymbol {
    NoteName root;
    std::vector<Interval> degrees;                ///< root first unless the label leaves it out
    const ChordQuality* quality = nullptr;        ///< the table's row for these degrees, or nullptr: an unusual chord
    std::optional<NoteName> bass;                 ///< the written slash bass; nullopt: the root
    std::string text;                             ///< as it was written

    /// Pitch classes, one each, root first; the slash bass last when the chord does not hold it.
    [[nodiscard]] std::vector<PitchClass> pitch_classes() const;
    /// The degrees spelled above the root, exactly: Cdim7 is C Eb Gb Bbb.
    [[nodiscard]] std::vector<NoteName> notes() const;
    /// The lowest note asked for: the slash bass, or the root.
    [[nodiscard]] NoteName lowest() const { return bass ? *bass : root; }
    /// This project's way of writing it: "Cm7b5", "C/E". For an unusual chord the text as written.
    [[nodiscard]] std::string chart_text(Accidentals signs = Accidentals::ascii) const;
    /// The label "C:hdim7/b3", degrees in brackets where the 2005 table has no shorthand.
    [[nodiscard]] std::string harte_text() const;
};

/// Reads either kind: a text with ':' is a label, any other a chart symbol. At most 64 bytes.
/// Errors: `unknown quality "mja7" in "Cmja7"; ...`, and likewise for root, bass, alteration, brackets.
[[nodiscard]] Result<ChordSymbol> parse_chord(std::string_view text);
/// Reads a chart symbol: root, quality, alterations (b5 #5 b9 #9 #11 b13 add9 no5, in brackets or not), "/" and a bass note.
[[nodiscard]] Result<ChordSymbol> parse_chart_symbol(std::string_view text);
/// Reads a label: `root[:shorthand][(degrees)][/degree]`, with * before a degree that is left out. "N" (no chord) is an error.
[[nodiscard]] Result<ChordSymbol> parse_harte_label(std::string_view text);

}  // namespace gripline
