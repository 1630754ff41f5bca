// A line as one picture: SVG 1.1 (W3C), grips over the chart.
#pragma once

#include <string>

#include "formats/line_picture.h"

namespace gripline {

/// The whole line in one tall picture, black on white, `across` grips in a row. Names are escaped; no script, nothing from elsewhere.
[[nodiscard]] std::string line_svg(const Chart& chart, const Line& line, const Neck& neck, int across = kUsualAcross);
/// A page of HTML to print or to read: a heading, and each row of grips as a picture with its words beside it for those who can't see it. No script, nothing from elsewhere; rows are not
/// broken over pages.
[[nodiscard]] std::string line_html(const Chart& chart, const Line& line, const Neck& neck, int across = kUsualAcross);

}  // namespace gripline
