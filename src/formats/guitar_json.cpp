#include "formats/guitar_json.h"

#include <cmath>
#include <nlohmann/json.hpp>

namespace gripline {
namespace {

using Json = nlohmann::ordered_json;

double tenths(double value) { return std::round(value * 10.0) / 10.0 + 0.0; }

Json partials(const dsp::NoteVoice& note) {
    Json out = Json::array();
    for (const float level : note.partial_db) out.push_back(level > dsp::kNoPartial_db ? Json(tenths(static_cast<double>(level))) : Json(nullptr));
    return out;
}

}  // namespace

std::string guitar_json(const GuitarProfile& profile) {
    Json out{{"name", profile.name}, {"input", profile.input}, {"made_on", profile.made_on}, {"tuning", profile.tuning.text()}, {"capo", profile.capo}, {"a4_hz", profile.a4_hz}, {"fret", profile.fret},
             {"noise_db", tenths(profile.noise_db)}, {"level_db", tenths(profile.level_db)}, {"strings", Json::array()}, {"response", Json::array()}, {"advice", advice(profile)}};
    for (const ProfileString& string : profile.strings)
        out["strings"].push_back({{"string", string.string.number()}, {"note", plain_name(MidiNote(string.open.midi))}, {"open_cents", tenths(profile.open_cents(string))},
                                  {"fretted_cents", tenths(GuitarProfile::fretted_cents(string))}, {"stiffness", std::round(string.open.stiffness * 1e7) / 1e7},
                                  {"tilt_db_per_octave", tenths(dsp::tilt_db_per_octave(string.open))}, {"partials_db", partials(string.open)}});
    const auto notes = profile.notes();
    const dsp::ResponseCurve curve = dsp::response_of(notes);
    for (int band = 0; band < dsp::kResponseBands; ++band)
        out["response"].push_back({{"hz", std::round(dsp::ResponseCurve::band_hz(band))}, {"db", tenths(static_cast<double>(curve.gain_db[static_cast<std::size_t>(band)]))}});
    return out.dump(-1, ' ', false, Json::error_handler_t::replace);
}

}  // namespace gripline
