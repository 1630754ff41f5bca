#include "formats/line_json.h"

#include <nlohmann/json.hpp>

#include "formats/line_name.h"
#include "theory/chord_words.h"

namespace gripline {

namespace {

using Json = nlohmann::ordered_json;

Json motion_of(const LineBeat& beat) {
    if (!beat.motion) return nullptr;
    return *beat.motion > 0 ? "up" : *beat.motion < 0 ? "down" : "same";
}

void explain(Json& out, const LineBeat& beat) {
    out["costs"] = Json::object();
    for (std::size_t i = 0; i < kCosts; ++i)
        if (beat.costs.hundredths[i] != 0) out["costs"][std::string(cost_rows()[i].name)] = static_cast<double>(beat.costs.hundredths[i]) / 100.0;
    out["second"] = beat.second ? Json{{"grip", beat.second->text()}, {"dearer", static_cast<double>(beat.second_hundredths) / 100.0}} : Json(nullptr);
}

}  // namespace

std::string beat_json(const LineBeat& beat, int alternative, bool explained) {
    Json out;
    if (alternative > 0) out["alternative"] = alternative;
    out["bar"] = beat.bar;
    out["beat"] = beat.beat;
    out["chord"] = beat.chord;
    out["grip"] = beat.grip.text();
    out["notes"] = Json::array();
    for (const SpelledNote& note : beat.notes) out["notes"].push_back(note.text());
    out["bass"] = beat.notes.front().name.text();
    out["role"] = std::string(word(beat.role));
    if (beat.from) out["from"] = std::string(word(*beat.from));
    out["motion"] = motion_of(beat);
    out["scale"] = beat.scale.text();
    out["sounds"] = beat.sounds;
    out["name"] = beat_name(beat);
    out["played_as"] = played_chord(beat.scale);
    if (beat.locked) out["locked"] = true;
    if (!beat.remark.empty()) out["remark"] = beat.remark;
    if (explained) explain(out, beat);
    return out.dump(-1, ' ', false, Json::error_handler_t::replace);
}

}  // namespace gripline
