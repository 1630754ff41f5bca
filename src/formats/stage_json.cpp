#include "formats/stage_json.h"

#include <nlohmann/json.hpp>

namespace gripline {

std::string step_json(const std::string& asked, const Stage& stage, const Step& step) {
    using Json = nlohmann::ordered_json;
    Json out;
    out["asked"] = asked;
    out["scale"] = stage.root.text();
    out["family"] = std::string(name(stage.family));
    out["stage"] = std::string(name(stage.kind));
    out["strings"] = stage.strings.text();
    out["degree"] = step.degree.degree_text();
    out["role"] = std::string(word(step.role));
    out["chord"] = step.chord;
    out["inversion"] = step.inversion;
    out["lead"] = step.lead.text();
    out["bass"] = step.grip ? Json(step.bass().name.text()) : Json(nullptr);
    out["notes"] = Json::array();
    for (const SpelledNote& note : step.notes) out["notes"].push_back(note.text());
    out["grip"] = step.grip ? Json(step.grip->text()) : Json(nullptr);
    if (!step.left_out.empty()) out["left_out"] = step.left_out;
    if (!step.remark.empty()) out["remark"] = step.remark;
    return out.dump(-1, ' ', false, Json::error_handler_t::replace);
}

}  // namespace gripline
