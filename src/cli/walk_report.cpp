#include "cli/walk_report.h"

#include "cli/marking.h"
#include "cli/strum_table.h"
#include "practice/walk_words.h"

namespace gripline {

WalkTable::WalkTable(std::ostream& out) : table_(out, {{"beat", 5}, {"chord", 7}, {"asked", 14}, {"verdict", 7}, {"off ms", 6, true}, {"what", 36}}) {}

void WalkTable::row(const WalkBeat& beat, const BeatResult& result) {
    CaseAnswer answer;
    answer.verdict = result.verdict;
    answer.any_strum = result.any_strum;
    table_.row({std::to_string(beat.bar) + "." + std::to_string(beat.beat), beat.chord, asked_text(beat.target), word(result.verdict.kind), result.off_ms ? signed_words(*result.off_ms) : "-",
                answer_text(beat.target, answer)});
}

void print_walk_summary(const WalkSummary& summary, std::ostream& out) {
    out << '\n' << walk_headline(summary) << '\n';
    for (const std::string& line : walk_lines(summary)) out << line << '\n';
    out << "Next: " << summary.suggestion << '\n';
}

}  // namespace gripline
