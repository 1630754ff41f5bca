// A chart: the chord progression of a tune, bar by bar, as it is written and in the order it is played.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "chart/meter.h"
#include "theory/chord_symbol.h"
#include "theory/serving.h"

namespace gripline {

/// The slowest and fastest tempo of a chart, counts a minute.
inline constexpr double kLeastTempo_bpm = 40.0, kMostTempo_bpm = 300.0;
/// Bars that a chart may have, written and played: four hours at a walking tempo, and a bound for hostile files.
inline constexpr int kMostBars = 16384;

/// The key of a chart.
struct Key {
    NoteName tonic;
    bool minor = false;

    /// Reads "Bb", "F#", "C minor", "Cm", "Eb major".
    static Result<Key> parse(std::string_view text);
    /// "Bb", "Cm".
    [[nodiscard]] std::string text() const { return tonic.text() + (minor ? "m" : ""); }
    friend bool operator==(const Key&, const Key&) = default;
};

/// A scale that the player chose for a chord: root and family.
struct ChosenScale {
    NoteName root;
    Family family = Family::major_sixth;

    /// Reads the scale's chord: "Dm6", "C6", "G7", "G7b5", "Bdim7".
    static Result<ChosenScale> parse(std::string_view chord);
    [[nodiscard]] std::string text() const { return root.text() + std::string(chord_suffix(family)); }
    friend bool operator==(const ChosenScale&, const ChosenScale&) = default;
};

/// A chord, or silence, and the counts that it takes.
struct PlacedChord {
    std::optional<ChordSymbol> symbol;  ///< nullopt: N.C., no chord
    int beat = 1;                       ///< first count, from 1
    int beats = 4;                      ///< counts
    std::optional<ChosenScale> scale;   ///< nullopt: the default of serving.h

    /// The symbol as written, "N.C." without.
    [[nodiscard]] std::string text() const { return symbol ? symbol->text : "N.C."; }
    friend bool operator==(const PlacedChord& a, const PlacedChord& b) {
        return a.text() == b.text() && a.beat == b.beat && a.beats == b.beats && a.scale == b.scale;
    }
};

/// A written bar.
struct Bar {
    std::vector<PlacedChord> chords;      ///< in order, together all counts of the bar
    Meter meter;                          ///< in force
    bool repeats_last = false;            ///< written as %; `chords` holds the chords all the same
    bool opens_repeat = false;            ///< |: before it
    int closes_repeat = 0;                ///< :| behind it: how often the part is played in all; 0: no sign
    std::vector<int> endings;             ///< the first bar of an ending: the passes it is for; else empty
    std::string section;                  ///< the first bar of a section: its letter; else empty
    bool starts_row = false;              ///< first of its row in the text
    std::vector<std::string> comments;    ///< lines of comment above its row
    friend bool operator==(const Bar&, const Bar&) = default;
};

/// A written chart.
struct Chart {
    std::string title;
    std::optional<Key> key;             ///< nullopt: not named; such a chart can't be transposed
    Meter meter;
    double tempo_bpm = 120.0;           ///< counts a minute; the usual practice tempo (common practice, no source)
    std::vector<Bar> bars;
    std::vector<std::string> comments;  ///< lines of comment below the last row
    friend bool operator==(const Chart&, const Chart&) = default;
};

/// The written bars (indices) in the order they are played: repeats and endings resolved, once through.
/// Errors: a repeat that opens inside another, an ending without a repeat, a pass without an ending, more than kMostBars.
[[nodiscard]] Result<std::vector<int>> played_bars(const Chart& chart);

/// Bars `first` to `last` as played (from 1; both within played_bars) as a chart of their own, without signs.
[[nodiscard]] Chart part_as_played(const Chart& chart, int first, int last);

/// The chart in another key: every root, slash bass and chosen scale moved alike; Cb, Fb, E#, B# and double accidentals respelled.
/// A chart that names no key comes back as it is.
[[nodiscard]] Chart transposed(const Chart& chart, NoteName tonic);

}  // namespace gripline
