// What a beat of a line is called: its chord with the bass that sounds.
#pragma once

#include <string>

#include "lines/line.h"

namespace gripline {

/// "C7", "C7/E", "Bdim7/D", of an approach into Cm7 "Bm7"; a slash bass of the chart's own chord gives way to the bass of the grip, spelled
/// by the chord's own letters.
[[nodiscard]] std::string beat_name(const LineBeat& beat);

}  // namespace gripline
