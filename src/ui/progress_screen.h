// The picture of progress: a table of qualities and directions, the twelve keys, the weeks, what to do today.
#pragma once

#include <string>
#include <vector>

#include "practice/progress.h"
#include "ui/canvas.h"

namespace gripline {

/// Where the reader's mark stands: a cell of the table, or a key.
struct ProgressMark {
    bool on_keys = false;
    int row = 0;     ///< of the table
    int column = 0;  ///< of the table, 0 to 3; on keys the place on the circle of fourths, 0 = C
};

struct ProgressView {
    Progress progress;
    std::vector<PlanItem> plan;
    ProgressMark mark;
    int page = 0;          ///< where the words below the tables don't fit: 0 the tables, then the words page by page, and round again
    bool details = false;  ///< strings by frets off, and tempos reached, in place of the tables
    std::string leave = "q quit";  ///< keys that lead away, in words
    std::string notice;  ///< of the history; empty when all is well
};

/// The key at a place on the circle of fourths: C F Bb Eb ...
[[nodiscard]] constexpr PitchClass key_at(int place) noexcept { return PitchClass(place * 5); }
/// How weak a cell is, to be seen without colour: dense is weak, light is strong, blank has too few answers to say.
[[nodiscard]] std::string shade_of(Standing standing, CharacterSet characters);
/// Each week's rate as a bar, or on plain ASCII as its tenths, 0 to 9; '.' where nothing was asked.
[[nodiscard]] std::string week_bars(const Progress& progress, CharacterSet characters, int weeks);
/// "rising: 61 % then, 78 % now (70 to 84 %)", or why nothing can be said.
[[nodiscard]] std::string trend_words(const Progress& progress);

/// Strings by frets off, tempos reached; any size, what does not fit is left out from the end and counted.
void draw_progress_details(const ProgressView& view, Canvas& canvas);

/// Any size; where words and plan do not fit below the tables they have pages of their own, and the last line says so.
void draw_progress(const ProgressView& view, Canvas& canvas);

}  // namespace gripline
