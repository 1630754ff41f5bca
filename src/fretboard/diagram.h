// A grip drawn on the neck as lines of text, in the notation of the trade: x a muted string, o an open one, a dot a finger.
#pragma once

#include <string>
#include <vector>

#include "fretboard/neck.h"

namespace gripline {

/// Upright: strings run down, the lowest at the left, as chords are printed. Lying: strings run across, string 1 on top, as the player
/// looks down on the neck.
enum class Lay { upright, lying };

/// The frets that a diagram shows: `first` to `first + count - 1`.
struct FretWindow {
    int first = 1;
    int count = 4;
};
/// From fret 1 when the grip lies low enough, else from its lowest fret; `least_frets` (1 to kMaxFret) or as many as the grip spans.
[[nodiscard]] FretWindow fret_window(const Grip& grip, int least_frets);

struct DiagramStyle {
    Lay lay = Lay::upright;
    bool ascii = false;      ///< only ASCII instead of lines and dots of Unicode
    int least_frets = 4;     ///< rows of frets shown at least, 1 to kMaxFret
};

/// The lines of the diagram, all of the same width in columns (every character is one column wide). A double line is the nut or the capo; the
/// fret numbers stand beside fretted rows and count from the capo, which is named on the first line. Left-handed necks are mirrored.
/// A grip for another number of strings than the neck's gives no lines.
[[nodiscard]] std::vector<std::string> neck_diagram(const Grip& grip, const Neck& neck = {}, const DiagramStyle& style = {});

}  // namespace gripline
