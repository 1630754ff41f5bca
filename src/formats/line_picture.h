// A line as rows of grips over the chart, in SVG: what the picture and the printed page share.
#pragma once

#include <string>
#include <vector>

#include "chart/chart.h"
#include "fretboard/neck.h"
#include "lines/line.h"

namespace gripline {

/// How many grips stand in a row: fewer are larger, to be read from a stand; eight of four counts are two bars.
inline constexpr int kLeastAcross = 3, kUsualAcross = 8, kMostAcross = 16;
/// Width of a grip in a row, in user units: CSS pixels, so that eight fill a portrait page between its margins.
inline constexpr double kGripCell = 90.0;

/// A row of bars: as many as fit, at least one (a long bar is squeezed in).
struct PictureRow {
    std::string svg;      ///< elements, drawn from (0, 0) to (across * kGripCell, height)
    double height = 0.0;
    std::string words;    ///< the same in words, for those who don't see it: "Bar 1: C7 8x89xx, ..."
    std::string section;  ///< of its first bar, or empty; a new section begins a row
};

/// The rows of the line over its chart, repeats written out. The line and the chart belong together; `neck` is the line's. across: kLeastAcross to kMostAcross.
[[nodiscard]] std::vector<PictureRow> picture_rows(const Chart& chart, const Line& line, const Neck& neck, int across = kUsualAcross);

/// The styles that the rows need: black on white.
[[nodiscard]] std::string picture_style();
/// "key F, 4/4, 120 counts a minute", and the capo and tuning when they are not the usual ones.
[[nodiscard]] std::string picture_facts(const Chart& chart, const Neck& neck);
/// How the page is read.
[[nodiscard]] std::string picture_legend(const Neck& neck);

}  // namespace gripline
