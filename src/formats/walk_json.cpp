#include "formats/walk_json.h"

#include "formats/verdict_fields.h"

namespace gripline {

namespace {

using Json = nlohmann::ordered_json;

Json rounded_or_null(const std::optional<double>& value, int places) { return value ? rounded(*value, places) : Json(nullptr); }

Json joint_object(const WalkJoint& joint) {
    Json out;
    out["bar"] = joint.bar;
    out["beat"] = joint.beat;
    out["from"] = joint.from;
    out["to"] = joint.to;
    out["played"] = joint.played;
    out["wrong"] = joint.wrong;
    out["unheard"] = joint.unheard;
    out["unsteady_ms"] = rounded_or_null(joint.unsteady_ms, 1);
    return out;
}

Json beat_object(const WalkBeat& beat, double at_s, const BeatResult& result) {
    Json out;
    out["bar"] = beat.bar;
    out["beat"] = beat.beat;
    out["chord"] = beat.chord;
    out["grip"] = beat.target.grip ? Json(beat.target.grip->text()) : Json(nullptr);
    out["at_s"] = rounded(at_s, 4);
    out["verdict"] = word(result.verdict.kind);
    out["confidence"] = rounded(result.verdict.confidence, 4);
    out["off_ms"] = rounded_or_null(result.off_ms, 1);
    out["heard"] = names(result.verdict.heard);
    out["faults"] = faults_field(result.verdict.faults);
    return out;
}

Json summary_object(const WalkSummary& summary) {
    Json out;
    out["beats"] = summary.beats;
    out["right"] = summary.right;
    out["wrong"] = summary.wrong;
    out["unheard"] = summary.unheard;
    out["strums_between"] = summary.strums_between;
    out["faults"] = Json::object();
    for (std::size_t kind = 0; kind < kFaultKinds; ++kind)
        if (summary.faults[kind] > 0) out["faults"][word(static_cast<FaultKind>(kind))] = summary.faults[kind];
    out["bias_ms"] = rounded_or_null(summary.bias_ms, 1);
    out["spread_ms"] = rounded_or_null(summary.spread_ms, 1);
    out["drift_ms_per_minute"] = rounded_or_null(summary.drift_ms_per_minute, 1);
    out["drift_error_ms_per_minute"] = rounded_or_null(summary.drift_error_ms_per_minute, 1);
    out["joints"] = Json::array();
    for (const WalkJoint& joint : summary.joints) out["joints"].push_back(joint_object(joint));
    out["suggestion"] = summary.suggestion;
    return out;
}

}  // namespace

std::string walk_beat_json(const WalkBeat& beat, const BeatResult& result) { return dumped(beat_object(beat, beat.at_s, result)); }

std::string walk_summary_json(const WalkSummary& summary) { return dumped(summary_object(summary)); }

std::string live_beat_json(const WalkHearing& hearing, const HeardBeat& heard) {
    Json out = beat_object(hearing.beats()[heard.result.index], hearing.music_s(heard.result.index), heard.result);
    out["chorus"] = heard.chorus;
    out["tempo_bpm"] = rounded(60.0 / hearing.count_s(heard.result.index), 2);
    return dumped(out);
}

std::string live_summary_json(const WalkSummary& summary, const LiveWalkFacts& facts) {
    Json out = summary_object(summary);
    out["choruses"] = facts.choruses;
    out["tempo_bpm"] = rounded(facts.tempo_bpm, 2);
    out["delay_ms"] = rounded_or_null(facts.delay_ms, 1);
    out["lost_frames"] = facts.lost_frames;
    out["gap_frames"] = facts.gap_frames;
    out["pictures"] = facts.pictures;
    out["most_pictures_a_second"] = facts.most_pictures_a_second;
    out["latest_picture_ms"] = rounded(facts.latest_picture_ms, 1);
    return dumped(out);
}

}  // namespace gripline
