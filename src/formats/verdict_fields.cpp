#include "formats/verdict_fields.h"

#include <cmath>

namespace gripline {

using Json = nlohmann::ordered_json;

namespace {

Json fault_object(const Fault& fault) {
    Json out;
    out["kind"] = word(fault.kind);
    if (fault.string) out["string"] = fault.string->number();
    if (fault.kind == FaultKind::wrong_note || fault.kind == FaultKind::shifted) out["frets"] = fault.frets;
    if (fault.asked) out["asked"] = plain_name(fault.asked->pitch_class());
    if (fault.heard) out["heard"] = plain_name(fault.heard->pitch_class());
    out["probability"] = rounded(fault.probability, 3);
    return out;
}

}  // namespace

std::string dumped(const Json& json) { return json.dump(-1, ' ', false, Json::error_handler_t::replace); }

/// Rounded to `places` decimals; null where it isn't a number.
Json rounded(double value, int places) {
    if (!std::isfinite(value)) return nullptr;
    const double scale = std::pow(10.0, places);
    const double out = std::round(value * scale) / scale;
    return out == 0.0 ? 0.0 : out;  // no "-0.0"
}

Json names(const std::vector<MidiNote>& notes) {
    Json out = Json::array();
    for (const MidiNote note : notes) out.push_back(plain_name(note));
    return out;
}

Json faults_field(const std::vector<Fault>& faults) {
    Json out = Json::array();
    for (const Fault& fault : faults) out.push_back(fault_object(fault));
    return out;
}

}  // namespace gripline
