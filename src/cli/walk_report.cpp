#include "cli/walk_report.h"

#include "cli/marking.h"
#include "cli/strum_table.h"

namespace gripline {

namespace {

std::string signed_text(double value) {
    const std::string text = decimal(value, 0);
    return value > 0.0 && text != "0" ? "+" + text : text == "-0" ? "0" : text;
}

const char* fault_name(FaultKind kind) {
    switch (kind) {
        case FaultKind::wrong_note: return "wrong note";
        case FaultKind::missing_note: return "missing note";
        case FaultKind::extra_note: return "extra note";
        case FaultKind::wrong_bass: return "other bass";
        case FaultKind::shifted: return "whole grip shifted";
        case FaultKind::nothing: break;
    }
    return "something else";
}

std::string beats_text(int beats) { return std::to_string(beats) + (beats == 1 ? " beat" : " beats"); }

void print_time(const WalkSummary& summary, std::ostream& out) {
    if (!summary.bias_ms) return;
    out << "Time: " << signed_text(*summary.bias_ms) << " ms on the mean (- is early)";
    if (summary.spread_ms) out << ", spread " << decimal(*summary.spread_ms, 0) << " ms";
    if (drifts(summary)) out << ", drift " << signed_text(*summary.drift_ms_per_minute) << " +/- " << decimal(*summary.drift_error_ms_per_minute, 0) << " ms a minute (- hurries)";
    else if (summary.drift_ms_per_minute) out << ", no drift that stands out of the spread";
    out << ".\n";
}

}  // namespace

WalkTable::WalkTable(std::ostream& out) : table_(out, {{"beat", 5}, {"chord", 7}, {"asked", 14}, {"verdict", 7}, {"off ms", 6, true}, {"what", 36}}) {}

void WalkTable::row(const WalkBeat& beat, const BeatResult& result) {
    CaseAnswer answer;
    answer.verdict = result.verdict;
    answer.any_strum = result.any_strum;
    table_.row({std::to_string(beat.bar) + "." + std::to_string(beat.beat), beat.chord, asked_text(beat.target), word(result.verdict.kind), result.off_ms ? signed_text(*result.off_ms) : "-",
                answer_text(beat.target, answer)});
}

void print_walk_summary(const WalkSummary& summary, std::ostream& out) {
    out << '\n' << beats_text(summary.beats) << ": " << summary.right << " right, " << summary.wrong << " wrong, " << summary.unheard << " unheard.";
    if (summary.strums_between > 0) out << " Strums that no beat wanted: " << summary.strums_between << '.';
    out << '\n';
    std::string faults;
    for (std::size_t kind = 0; kind < kFaultKinds; ++kind)
        if (summary.faults[kind] > 0) faults += (faults.empty() ? "" : ", ") + std::string(fault_name(static_cast<FaultKind>(kind))) + " " + std::to_string(summary.faults[kind]);
    if (!faults.empty()) out << "Faults: " << faults << ".\n";
    print_time(summary, out);
    for (const WalkJoint& joint : summary.joints) {
        out << "Bar " << joint.bar << ", beat " << joint.beat << ", " << joint.from << " to " << joint.to << (joint.played > 1 ? ", played " + std::to_string(joint.played) + " times" : "") << ": " << joint.wrong
            << " wrong, " << joint.unheard << " unheard" << (joint.unsteady_ms ? ", " + decimal(*joint.unsteady_ms, 0) + " ms from your mean" : "") << ".\n";
    }
    out << "Next: " << summary.suggestion << '\n';
}

}  // namespace gripline
