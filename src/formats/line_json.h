// The beats of a line as lines of JSON.
#pragma once

#include <string>

#include "lines/line.h"

namespace gripline {

/// One beat: bar, beat, chord (the chart's), grip, notes, bass, role (chord, passing, approach), from (below, above; an approach only), motion (of the
/// bass from the beat before: up, down, same; null on the first), scale, sounds (what the grip itself is); locked and remark where there
/// is something to say; alternative (from 1) when it is not 0; costs and second when explained.
[[nodiscard]] std::string beat_json(const LineBeat& beat, int alternative = 0, bool explained = false);

}  // namespace gripline
