// Charts out of MusicXML 4.0 (and older): the chords of its harmony elements.
#pragma once

#include <string_view>

#include "formats/chart_import.h"

namespace gripline {

/// Reads a score, partwise or timewise, uncompressed: title, key, meters, tempo, rehearsal marks, repeats, endings, rows of the first part that has
/// chords. Remarks tell what a chart can't hold: D.S. and codas, pickup bars, chords between counts, changes of key. Errors say bar and
/// beat: `bar 3, beat 2: kind "Tristan" ...`; see also XmlDocument::parse().
[[nodiscard]] Result<ImportedChart> read_music_xml(std::string_view bytes);

}  // namespace gripline
