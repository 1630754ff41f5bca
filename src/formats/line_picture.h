// A line as rows of grips over the chart, in SVG: what the picture and the printed page share.
#pragma once

#include <string>
#include <vector>

#include "chart/chart.h"
#include "fretboard/neck.h"
#include "lines/line.h"

namespace gripline {

/// Width of every row, in user units: CSS pixels, so that a row fills a portrait page between its margins.
inline constexpr double kPictureWidth = 720.0;

/// A row of bars: as many as eight grips fill.
struct PictureRow {
    std::string svg;      ///< elements, drawn from (0, 0) to (kPictureWidth, height)
    double height = 0.0;
    std::string words;    ///< the same in words, for those who don't see it: "Bar 1: C7 8x89xx, ..."
    std::string section;  ///< of its first bar, or empty; a new section begins a row
};

/// The rows of the line over its chart, repeats written out. The line and the chart belong together; `neck` is the line's.
[[nodiscard]] std::vector<PictureRow> picture_rows(const Chart& chart, const Line& line, const Neck& neck);

/// The styles that the rows need: black on white.
[[nodiscard]] std::string picture_style();
/// "key F, 4/4, 120 counts a minute", and the capo and tuning when they are not the usual ones.
[[nodiscard]] std::string picture_facts(const Chart& chart, const Neck& neck);
/// How the page is read.
inline constexpr const char* kPictureLegend =
    "Large: the chord of the chart. Below it what the grip is, with its bass; < an approach from below, > from above. Strings from the lowest at the left; a number beside the neck is the first fret shown.";

}  // namespace gripline
