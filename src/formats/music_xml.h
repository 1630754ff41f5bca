// MusicXML 4.0 (W3C Music Notation Community Group): lines as notation, tablature and harmony.
#pragma once

#include <string>

#include "chart/chart.h"
#include "lines/line.h"

namespace gripline {

/// A partwise score of one guitar part with two staves: notation an octave higher than it sounds (clef with an 8 below), and tablature of
/// the grips' strings and frets; the chart's chords as harmony. Repeats are written out. `tuning` is that of the line's neck, `capo` its capo.
/// The line and the chart belong together.
[[nodiscard]] std::string line_music_xml(const Chart& chart, const Line& line, const Tuning& tuning = {}, int capo = 0);

}  // namespace gripline
