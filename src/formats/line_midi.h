// A line as a Standard MIDI File: tempo and chords, the guitar, a click.
#pragma once

#include "chart/chart.h"
#include "formats/midi_file.h"
#include "lines/line.h"

namespace gripline {

/// Tracks: 0 title, tempo, key, meters, sections as markers, and each chord of the chart as a text event where it begins (midi_chart() reads them back); 1 the grips struck short on channel 1, the bass
/// accented, beats 2 and 4 a little heavier; 2 the click on channel 10, louder on 2 and 4. Notes sound as on the guitar. The line and
/// the chart belong together.
[[nodiscard]] MidiFile line_midi(const Chart& chart, const Line& line);

}  // namespace gripline
