// Charts out of Standard MIDI Files: chords written as text, lyric, cue or marker events.
#pragma once

#include "formats/chart_import.h"
#include "formats/midi_file.h"

namespace gripline {

/// The chart of a file: bars by its meters, chords by the texts that are chord symbols (markers only when there are no others; then markers are the sections), title, key and
/// tempo by its events. Repeats are written out. Remarks tell of texts between counts and other tempos. Errors say bar and beat.
[[nodiscard]] Result<ImportedChart> midi_chart(const MidiFile& file);

}  // namespace gripline
