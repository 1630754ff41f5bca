#include "formats/verdict_json.h"

#include <algorithm>

#include "formats/verdict_fields.h"

namespace gripline {

namespace {

using Json = nlohmann::ordered_json;

Json bass_name(const Verdict& verdict) {
    if (!verdict.bass) return nullptr;
    return plain_name(*verdict.bass);
}

}  // namespace

std::string json_string(const std::string& text) { return dumped(Json(text)); }

std::string strum_json(const Verdict& heard) {
    std::vector<PitchClass> classes;
    for (const MidiNote note : heard.heard) classes.push_back(note.pitch_class());
    std::sort(classes.begin(), classes.end());
    classes.erase(std::unique(classes.begin(), classes.end()), classes.end());
    Json out;
    out["at_s"] = rounded(heard.onset_s, 4);
    out["decided_s"] = rounded(heard.decided_s, 4);
    out["notes"] = names(heard.heard);
    out["bass"] = bass_name(heard);
    out["pitch_classes"] = Json::array();
    for (const PitchClass pitch_class : classes) out["pitch_classes"].push_back(plain_name(pitch_class));
    out["strengths"] = Json::array();
    for (const float strength : heard.strengths) out["strengths"].push_back(rounded(strength, 4));
    out["level_db"] = rounded(heard.level_db, 1);
    out["tuning_cents"] = rounded(heard.tuning_cents, 1);
    return dumped(out);
}

std::string answer_json(const std::string& name, const Verdict& verdict, bool any_strum, const std::vector<Weighed>& leading) {
    Json out;
    out["case"] = name;
    out["verdict"] = word(verdict.kind);
    out["confidence"] = rounded(verdict.confidence, 4);
    out["at_s"] = any_strum ? rounded(verdict.onset_s, 4) : Json(nullptr);
    out["decided_s"] = any_strum ? rounded(verdict.decided_s, 4) : Json(nullptr);
    out["heard"] = names(verdict.heard);
    out["bass"] = bass_name(verdict);
    out["tuning_cents"] = rounded(verdict.tuning_cents, 1);
    out["faults"] = faults_field(verdict.faults);
    for (const Weighed& w : leading) {
        Json each;
        each["chance"] = rounded(w.chance, 4);
        each["kind"] = w.fault ? word(*w.fault) : "asked";
        if (w.string > 0) each["string"] = w.string;
        if (w.frets != 0) each["frets"] = w.frets;
        each["notes"] = names(w.notes);
        each["unexplained"] = rounded(w.unexplained, 4);
        out["hypotheses"].push_back(std::move(each));
    }
    return dumped(out);
}

std::string error_json(const std::string& name, const std::string& error) {
    Json out;
    out["case"] = name;
    out["error"] = error;
    return dumped(out);
}

}  // namespace gripline
