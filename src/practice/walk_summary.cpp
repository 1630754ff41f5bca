#include "practice/walk_summary.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <map>

#include "chart/chart.h"

namespace gripline {

namespace {

/// From these on the suggestion speaks of time: a listener hears 30 to 50 ms against a steady beat (common practice, no source).
constexpr double kBiasTold_ms = 30.0, kSpreadTold_ms = 30.0, kDriftTold_ms_per_minute = 60.0;
/// Shares of beats from which the suggestion speaks of them (our choice).
constexpr double kManyUnheard = 0.25, kManyWrong = 0.4, kNearlyAllWrong = 0.8, kSameFault = 0.125;

/// A drift is told when it is so many standard errors away from none: by chance alone it is once in 370 walks (normal distribution).
constexpr double kClearDrift = 3.0;

struct TimedOff {
    double at_s, off_ms;
};

std::string whole(double value) { return std::to_string(std::lround(std::abs(value))); }

void add_timing(const std::vector<TimedOff>& offs, WalkSummary& out) {
    if (offs.empty()) return;
    const auto count = static_cast<double>(offs.size());
    double off_ms = 0.0, at_s = 0.0;
    for (const TimedOff& each : offs) {
        off_ms += each.off_ms / count;
        at_s += each.at_s / count;
    }
    double squares = 0.0, spans = 0.0, products = 0.0;
    for (const TimedOff& each : offs) {
        squares += (each.off_ms - off_ms) * (each.off_ms - off_ms);
        spans += (each.at_s - at_s) * (each.at_s - at_s);
        products += (each.at_s - at_s) * (each.off_ms - off_ms);
    }
    out.bias_ms = off_ms;
    if (offs.size() >= 2) out.spread_ms = std::sqrt(squares / (count - 1.0));
    if (offs.size() < 3 || spans <= 0.0) return;
    const double slope = products / spans;
    out.drift_ms_per_minute = 60.0 * slope;
    out.drift_error_ms_per_minute = 60.0 * std::sqrt(std::max(0.0, squares - slope * products) / (count - 2.0) / spans);
}

std::vector<WalkJoint> worst_joints(const std::vector<WalkBeat>& beats, const std::vector<BeatResult>& results, double bias_ms) {
    std::vector<WalkJoint> joints;
    std::map<std::pair<int, int>, std::size_t> places;  // written bar and beat -> joint
    for (std::size_t i = 1; i < results.size(); ++i) {
        const WalkBeat& before = beats[results[i - 1].index];
        const WalkBeat& after = beats[results[i].index];
        if (before.chord == after.chord) continue;
        const auto [place, fresh] = places.try_emplace({after.written_bar, after.beat}, joints.size());
        if (fresh) joints.push_back({.bar = after.bar, .beat = after.beat, .from = before.chord, .to = after.chord});
        WalkJoint& joint = joints[place->second];
        ++joint.played;
        for (const std::size_t k : {i - 1, i}) {
            joint.wrong += results[k].verdict.kind == VerdictKind::wrong ? 1 : 0;
            joint.unheard += results[k].verdict.kind == VerdictKind::unheard ? 1 : 0;
            if (results[k].off_ms) joint.unsteady_ms = joint.unsteady_ms.value_or(0.0) + std::abs(*results[k].off_ms - bias_ms);
        }
    }
    for (WalkJoint& joint : joints) {
        if (joint.unsteady_ms) joint.unsteady_ms = *joint.unsteady_ms / (2 * joint.played - joint.unheard);
    }
    std::erase_if(joints, [](const WalkJoint& joint) { return joint.wrong + joint.unheard == 0 && joint.unsteady_ms.value_or(0.0) < kSpreadTold_ms; });
    std::stable_sort(joints.begin(), joints.end(), [](const WalkJoint& a, const WalkJoint& b) {
        const double bad_a = static_cast<double>(a.wrong + a.unheard) / a.played, bad_b = static_cast<double>(b.wrong + b.unheard) / b.played;
        return bad_a != bad_b ? bad_a > bad_b : a.unsteady_ms > b.unsteady_ms;
    });
    if (joints.size() > kMostJoints) joints.resize(kMostJoints);
    return joints;
}

/// The fault on one string that comes most often, in words, or nothing.
std::string same_fault_words(const std::vector<BeatResult>& results) {
    std::map<std::pair<int, FaultKind>, int> counts;
    for (const BeatResult& result : results) {
        if (result.verdict.kind != VerdictKind::wrong || result.verdict.faults.empty() || !result.verdict.faults.front().string) continue;
        ++counts[{result.verdict.faults.front().string->number(), result.verdict.faults.front().kind}];
    }
    const auto most = std::max_element(counts.begin(), counts.end(), [](const auto& a, const auto& b) { return a.second < b.second; });
    if (most == counts.end() || most->second < 2 || most->second < kSameFault * static_cast<double>(results.size())) return "";
    const auto& [string, kind] = most->first;
    const std::string times = " on " + std::to_string(most->second) + " of " + std::to_string(results.size()) + " beats";
    const std::string name = "String " + std::to_string(string);
    if (kind == FaultKind::missing_note) return name + " stayed silent" + times + ": play those grips slowly, string by string, until each one rings.";
    if (kind == FaultKind::extra_note) return name + " rang unasked" + times + ": let a finger of the fretting hand rest on it.";
    return name + " was off" + times + ": place that finger first in those grips.";
}

std::string slower(double tempo_bpm, double factor) {
    const double tempo = std::clamp(5.0 * std::round(tempo_bpm * factor / 5.0), kLeastTempo_bpm, kMostTempo_bpm);
    return std::to_string(std::lround(tempo));
}

std::string timing_words(const WalkSummary& sum) {
    const double drift = sum.drift_ms_per_minute.value_or(0.0);
    if (std::abs(drift) >= kDriftTold_ms_per_minute && drifts(sum))
        return std::string(drift < 0.0 ? "You hurry" : "You drag") + ", " + whole(drift) + " ms more with each minute: count aloud on 2 and 4.";
    if (sum.spread_ms.value_or(0.0) >= kSpreadTold_ms)
        return "The beats lie " + whole(*sum.spread_ms) + " ms apart from even: walk the bass notes alone with the click, then add the grips.";
    if (std::abs(sum.bias_ms.value_or(0.0)) >= kBiasTold_ms)
        return "You play " + whole(*sum.bias_ms) + " ms " + (*sum.bias_ms < 0.0 ? "early" : "late") + ", evenly: if the first beat and the delay of the input are set right, lean the other way.";
    return "";
}

std::string suggestion(const WalkSummary& sum, const std::vector<BeatResult>& results, double tempo_bpm) {
    if (sum.beats == 0) return "Nothing was asked.";
    const double beats = sum.beats;
    if (sum.unheard == sum.beats) return "No beat was heard: check the input, and where the first beat lies.";
    if (sum.unheard > kManyUnheard * beats) return "Many beats were unheard: at " + slower(tempo_bpm, 0.8) + " a minute strum every beat, even when the grip comes late.";
    if (sum.wrong > kNearlyAllWrong * beats) return "Nearly every beat was another grip: check the chart and its key, and where the first beat lies.";
    if (sum.wrong > kManyWrong * beats) return "Take it slower: at " + slower(tempo_bpm, 0.8) + " a minute, then up again by five.";
    if (const std::string words = same_fault_words(results); !words.empty()) return words;
    if (!sum.joints.empty() && sum.joints.front().wrong + sum.joints.front().unheard > 0) {
        const WalkJoint& joint = sum.joints.front();
        return "Loop the change from " + joint.from + " to " + joint.to + " at bar " + std::to_string(joint.bar) + ": --bars " + std::to_string(std::max(joint.bar - 1, 1)) + "-" + std::to_string(joint.bar) + ", approach and landing alone (--landing).";
    }
    if (sum.right < sum.beats) return "Play the beats that were wrong once each without the click, then the whole again at this tempo.";
    if (const std::string words = timing_words(sum); !words.empty()) return words;
    return tempo_bpm < kMostTempo_bpm ? "All right and in time: try it at " + slower(tempo_bpm + 5.0, 1.0) + " a minute." : "All right and in time: try another line over this chart.";
}

}  // namespace

bool drifts(const WalkSummary& summary) noexcept {
    return summary.drift_ms_per_minute && std::abs(*summary.drift_ms_per_minute) > kClearDrift * *summary.drift_error_ms_per_minute;
}

WalkSummary summarise_walk(const std::vector<WalkBeat>& beats, const std::vector<BeatResult>& results, int strums_between, double tempo_bpm) {
    WalkSummary out;
    out.beats = static_cast<int>(results.size());
    out.strums_between = strums_between;
    std::vector<TimedOff> offs;
    for (const BeatResult& result : results) {
        const Verdict& verdict = result.verdict;
        ++(verdict.kind == VerdictKind::right ? out.right : verdict.kind == VerdictKind::wrong ? out.wrong : out.unheard);
        if (verdict.kind == VerdictKind::wrong) {
            const FaultKind kind = verdict.faults.empty() ? FaultKind::nothing : verdict.faults.front().kind;
            ++out.faults[static_cast<std::size_t>(kind)];
        }
        if (result.off_ms) offs.push_back({beats[result.index].at_s, *result.off_ms});
    }
    add_timing(offs, out);
    out.joints = worst_joints(beats, results, out.bias_ms.value_or(0.0));
    out.suggestion = suggestion(out, results, tempo_bpm);
    return out;
}

}  // namespace gripline
