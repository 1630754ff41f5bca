// A grip drawn on the neck as a piece of SVG, upright as chords are printed.
#pragma once

#include <string>

#include "fretboard/neck.h"

namespace gripline {

/// Size of the drawing in user units, for six strings; the text beside it needs kGripMargin more at the left.
inline constexpr double kGripWidth = 50.0, kGripHeight = 74.0, kGripMargin = 18.0;

/// A group whose strings and frets lie right and below of (x, y): x and o above the strings, dots where fingers stand, the nut (or capo) as a thick line, or else the
/// number of the first fret. Black on nothing; read without colour. A stroke of class "wire", dots "dot", text "mark".
[[nodiscard]] std::string grip_svg(const Grip& grip, const Neck& neck, double x, double y);

/// "12.5", "8": a number as SVG writes it.
[[nodiscard]] std::string svg_number(double value);
/// A text element of a class with its middle (anchor "middle") or start ("start") at x; squeezed into `most` units when it would be wider.
[[nodiscard]] std::string svg_text(double x, double y, const std::string& text, const std::string& css_class, const std::string& anchor, double most, double unit);

}  // namespace gripline
