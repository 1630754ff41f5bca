// Charts out of ABC notation (standard 2.1): the chord symbols of a tune.
#pragma once

#include <string_view>

#include "formats/chart_import.h"

namespace gripline {

/// Reads the first tune, at most 4 MiB: title, key, meter, tempo, parts, repeats, endings; the chord symbols of its first voice that has any. A line of music is a row.
/// Remarks tell what a chart can't hold. Errors say line, bar and beat: `line 7, bar 3, beat 2: unknown quality ...`.
[[nodiscard]] Result<ImportedChart> read_abc(std::string_view text);

}  // namespace gripline
