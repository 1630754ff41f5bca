// Small parts that screens are put together from.
#pragma once

#include <string>
#include <vector>

#include "ui/canvas.h"
#include "ui/practice_view.h"

namespace gripline {

/// The meter's lower end, dB below full scale; a soft strum through a quiet interface lies near -50 (measured on built-in player and takes).
inline constexpr double kMeterFloor_db = -60.0;

/// "[####..|..] -18 dB" in `columns` columns, at least 12; filled to the level, a mark at the peak.
void draw_level(Canvas& canvas, int x, int y, int columns, const LevelView& level);

/// Keys in rows of "h hear it  p play it", at most `rows` of them; what does not fit is left out from the end.
/// Returns the rows used.
int draw_keys(Canvas& canvas, int x, int y, int columns, int rows, const std::vector<KeyWords>& keys);

/// Four rows: string, fret, asked, heard. Returns the columns used.
int draw_strings(Canvas& canvas, int x, int y, const std::vector<StringHeard>& strings, bool heard);

/// "asked E C G" and "heard E C Ab" as two texts for narrow screens; damped strings are left out, silent ones are "-".
[[nodiscard]] std::string asked_text(const std::vector<StringHeard>& strings);
[[nodiscard]] std::string heard_text(const std::vector<StringHeard>& strings);

}  // namespace gripline
