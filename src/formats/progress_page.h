// Progress as lines of JSON, as CSV, and as a page of HTML.
#pragma once

#include <iosfwd>

#include "practice/progress.h"

namespace gripline {

/// One object a line (RFC 8259). `of` and `right` count first tries without help; `low` and `high` bound the rate (Wilson, 95 %), `standing` is "weak", "between", "strong" or
/// "too few". what: "all" (player, date, part, tries, trend, answer_s, most_tempo_bpm, faults), "cell" (quality, place), "key" (key), "week" (monday), "plan" (minutes, words), "string" (string, frets_off, missing, extra), "tempo"
/// (quality, place, in_time, fastest_bpm, reached_bpm; the counts are those at that tempo or faster, or all in time where none is reached), "question" (question, mixed_up: asked,
/// answered, times; of name-it).
void write_progress_json(const Progress& progress, const std::vector<PlanItem>& plan, std::ostream& out);

/// RFC 4180: what,quality,place,key,monday,right,of,rate,low,high,standing; a row for the whole, each cell, each key, each week, then
/// string,fault,times (fault: -3 to +3 frets, the ends "or more", missing, extra), tempo_bpm and question: a row for each string and fault, each tempo
/// reached, each question of name-it.
void write_progress_csv(const Progress& progress, std::ostream& out);

/// One page that needs nothing from elsewhere: no script, no network. Pictures are SVG in black, white and hatching; every name is escaped.
void write_progress_page(const Progress& progress, const std::vector<PlanItem>& plan, std::ostream& out);

}  // namespace gripline
