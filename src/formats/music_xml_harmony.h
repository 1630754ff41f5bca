// A harmony element of MusicXML 4.0, read. Internal to src/formats.
#pragma once

#include <optional>
#include "formats/xml.h"
#include "theory/chord_symbol.h"

namespace gripline::music_xml {

struct ReadHarmony {
    std::optional<ChordSymbol> symbol;  ///< nullopt: no chord sounds
    bool more = false;                  ///< the element holds another chord over this one
};
/// Root, kind, bass, inversion, degrees. Errors name the element and its value.
[[nodiscard]] Result<ReadHarmony> read_harmony(XmlNode harmony);

/// Quarter notes of a metronome mark's beat: 1.5 for a dotted quarter. 0 when it has none.
[[nodiscard]] double quarters_of_beat(XmlNode metronome);

}  // namespace gripline::music_xml
