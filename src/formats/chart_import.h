// Charts from other programs' files: chords fall on counts, bars hold whole counts, and what a chart can't hold is said.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "chart/chart.h"

namespace gripline {

/// A chart as read, and what was left out or moved: "bar 3: ...", one sentence each.
struct ImportedChart {
    Chart chart;
    std::vector<std::string> remarks;
};

/// A number as files write it, finite; nullopt for anything else.
[[nodiscard]] std::optional<double> number_of(std::string_view text);
/// Text from a file as a chart may hold it: valid UTF-8 (else U+FFFD), control characters (U+0000 to 1F, 7F to 9F) as blanks, at most `most_bytes`, no blanks at the ends.
[[nodiscard]] std::string clean_text(std::string_view text, std::size_t most_bytes = 200);
/// The same for a section's letter: at most 12 bytes, nothing that a chart's text gives a meaning to.
[[nodiscard]] std::string clean_section(std::string_view text);

/// Puts a chart together, bar by bar.
class ChartBuilder {
public:
    Chart chart;  ///< title, key, tempo and the bars' signs are set here; the bars' chords by finish()

    /// Opens a bar; an error when there are kMostBars already.
    [[nodiscard]] std::optional<Error> open_bar(const Meter& meter);
    /// The bar that was opened last; there must be one.
    [[nodiscard]] Bar& bar() { return chart.bars.back(); }
    /// Takes the last bar back, with its chords; there must be one.
    void drop_bar();
    /// "bar 3, beat 2.5: " for a place `counts` counts into the last bar.
    [[nodiscard]] std::string place(double counts) const;

    /// A chord (nullopt: none sounds), `counts` counts into the last bar. Between counts it goes to the nearest, from half a count on to the next (it
    /// was pushed), with a remark. Not before the bar, not past it.
    [[nodiscard]] std::optional<Error> put(double counts, std::optional<ChordSymbol> symbol, std::optional<ChosenScale> scale = {});
    /// Says something of the last bar (or of the chart, before there is one). After some twenty the rest is only counted.
    void remark(const std::string& what);

    /// Fills the bars: a chord holds until the next, N.C. before the first. Bars marked as repeats_last stay so when they hold the same
    /// as the bar before. Errors: no chords at all, repeats or endings that can't be played.
    [[nodiscard]] Result<ImportedChart> finish();

private:
    struct Placed {
        int bar;
        int beat;  ///< from 1
        bool pushed;
        PlacedChord chord;
    };
    std::vector<Placed> placed_;
    std::vector<std::string> remarks_;
    int unsaid_ = 0;

    void fill();
    void say(const std::string& what);
};

}  // namespace gripline
