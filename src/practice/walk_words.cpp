#include "practice/walk_words.h"

#include <cmath>

#include "practice/verdict_words.h"

namespace gripline {

namespace {

std::string whole(double value) { return std::to_string(std::lround(value)); }

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

std::string faults_line(const WalkSummary& summary) {
    std::string faults;
    for (std::size_t kind = 0; kind < kFaultKinds; ++kind)
        if (summary.faults[kind] > 0) faults += (faults.empty() ? "" : ", ") + std::string(fault_name(static_cast<FaultKind>(kind))) + " " + std::to_string(summary.faults[kind]);
    return faults.empty() ? "" : "Faults: " + faults + ".";
}

std::string time_line(const WalkSummary& summary) {
    if (!summary.bias_ms) return "";
    std::string out = "Time: " + signed_words(*summary.bias_ms) + " ms on the mean (- is early)";
    if (summary.spread_ms) out += ", spread " + whole(*summary.spread_ms) + " ms";
    if (drifts(summary)) out += ", drift " + signed_words(*summary.drift_ms_per_minute) + " +/- " + whole(*summary.drift_error_ms_per_minute) + " ms a minute (- hurries)";
    else if (summary.drift_ms_per_minute) out += ", no drift that stands out of the spread";
    return out + ".";
}

std::string joint_line(const WalkJoint& joint) {
    std::string out = "Bar " + std::to_string(joint.bar) + ", beat " + std::to_string(joint.beat) + ", " + joint.from + " to " + joint.to;
    if (joint.played > 1) out += ", played " + std::to_string(joint.played) + " times";
    out += ": " + std::to_string(joint.wrong) + " wrong, " + std::to_string(joint.unheard) + " unheard";
    if (joint.unsteady_ms) out += ", " + whole(*joint.unsteady_ms) + " ms from your mean";
    return out + ".";
}

}  // namespace

PracticeStep step_of(const Target& target) {
    PracticeStep step;
    step.tuning = target.tuning;
    step.capo = target.capo;
    step.a4_hz = target.a4_hz;
    step.grip = target.grip.value_or(Grip(target.tuning.strings()));
    const auto notes = step.notes();
    if (!notes.empty()) step.bass = step.name(notes.front().note);
    else if (target.bass) step.bass = step.names[static_cast<std::size_t>(target.bass->value())];
    return step;
}

std::string beat_words(const WalkBeat& beat, const BeatResult& result) {
    if (!result.any_strum) return "No strum heard.";
    const VerdictWords words = verdict_words(result.verdict, step_of(beat.target));
    return words.headline.starts_with("Wrong. ") ? words.headline.substr(7) : words.headline;
}

std::string signed_words(double value) {
    const long rounded = std::lround(value);
    return (rounded > 0 ? "+" : "") + std::to_string(rounded);
}

std::string walk_headline(const WalkSummary& summary) {
    return std::to_string(summary.beats) + (summary.beats == 1 ? " beat: " : " beats: ") + std::to_string(summary.right) + " right, " + std::to_string(summary.wrong) + " wrong, " +
           std::to_string(summary.unheard) + " unheard.";
}

std::vector<std::string> walk_lines(const WalkSummary& summary) {
    std::vector<std::string> out;
    const auto add = [&](std::string line) {
        if (!line.empty()) out.push_back(std::move(line));
    };
    if (summary.strums_between > 0) add("Strums that no beat wanted: " + std::to_string(summary.strums_between) + ".");
    add(faults_line(summary));
    add(time_line(summary));
    for (const WalkJoint& joint : summary.joints) add(joint_line(joint));
    return out;
}

}  // namespace gripline
