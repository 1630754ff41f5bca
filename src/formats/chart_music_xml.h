// A chart in MusicXML 4.0: chords as harmony over a staff of slashes, with the chart's repeats, endings, sections and rows.
#pragma once

#include <string>

#include "chart/chart.h"

namespace gripline {

/// A partwise score of one part. What the standard has no element for goes where other programs show or ignore it: a chosen scale as words ("walk on Eb6"),
/// comments as miscellaneous fields. read_music_xml() reads it back to the same chart.
[[nodiscard]] std::string chart_music_xml(const Chart& chart);

}  // namespace gripline
