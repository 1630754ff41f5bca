#include "formats/attempt_fields.h"

#include <algorithm>

#include "formats/attempt_file.h"
#include "formats/json_keys.h"
#include "practice/attempt_check.h"

namespace gripline {
namespace {

using Json = nlohmann::ordered_json;

template <class Value>
Json or_null(const std::optional<Value>& value) {
    return value ? Json(*value) : Json(nullptr);
}
Json number_or_null(const std::optional<MidiNote>& note) { return note ? Json(note->number()) : Json(nullptr); }

constexpr const char* kMotions[] = {"down", "same", "up"};

int strings_of(const std::string& fret_string) {
    const auto dashes = std::count(fret_string.begin(), fret_string.end(), '-');
    return std::clamp(dashes > 0 ? static_cast<int>(dashes) + 1 : static_cast<int>(fret_string.size()), kMinStrings, kMaxStrings);
}

/// The value whose word it is.
template <class Value, std::size_t N>
Result<Value> by_word(const std::string& text, const Value (&values)[N]) {
    std::string allowed;
    for (const Value value : values) {
        if (word(value) == text) return value;
        allowed += (allowed.empty() ? "" : ", ") + std::string(word(value));
    }
    return Error{gripline::quoted(text) + " is not known; " + allowed + " are"};
}

Result<VerdictKind> verdict_of(const std::string& text) { return by_word(text, {VerdictKind::right, VerdictKind::wrong, VerdictKind::unheard}); }
Result<Sounds> place_of(const std::string& text) { return by_word(text, {Sounds::chord, Sounds::passing, Sounds::approach}); }
Result<From> from_of(const std::string& text) { return by_word(text, {From::below, From::above}); }
Result<FaultKind> kind_of(const std::string& text) {
    return by_word(text, {FaultKind::wrong_note, FaultKind::missing_note, FaultKind::extra_note, FaultKind::wrong_bass, FaultKind::shifted, FaultKind::nothing});
}
Result<int> motion_of(const std::string& text) {
    for (int i = 0; i < 3; ++i)
        if (text == kMotions[i]) return i - 1;
    return Error{gripline::quoted(text) + " is not known; down, same, up are"};
}

/// There, and not null.
bool held(const Json& object, const char* key) { return object.is_object() && object.contains(key) && !object.at(key).is_null(); }

/// For a message: bytes that are no UTF-8 become U+FFFD.
std::string shown(const Json& value) { return value.dump(-1, ' ', false, Json::error_handler_t::replace); }

constexpr double kLargest = 1e9;  // the limits proper are those of check()

std::optional<MidiNote> note_in(JsonKeys& keys, const Json& object, const char* key) {
    return held(object, key) ? std::optional(MidiNote(static_cast<int>(keys.whole(key, 0, 127)))) : std::nullopt;
}

Fault fault_from(const Json& object, const std::string& place, std::string& trouble) {
    JsonKeys keys(object, place, trouble);
    Fault fault;
    keys.read("kind", fault.kind, kind_of);
    if (held(object, "string")) fault.string = StringNumber(static_cast<int>(keys.whole("string", 1, kMaxStrings)));
    if (held(object, "frets")) fault.frets = static_cast<int>(keys.whole("frets", -kMaxFret, kMaxFret));
    fault.asked = note_in(keys, object, "asked");
    fault.heard = note_in(keys, object, "heard");
    if (held(object, "probability")) fault.probability = keys.number("probability", 0, 1);
    return fault;
}

void read_asked(JsonKeys& keys, const Json& object, Attempt& a) {
    const auto text = [&](const char* key, std::string& out) { if (held(object, key)) out = keys.text(key); };
    keys.read("asking", a.asking, [](const std::string& word) { return parse_asking(word); });
    keys.read("family", a.family, [](const std::string& word) { return parse_family(word); });
    keys.read("root", a.root, [](const std::string& word) { return NoteName::parse(word); });
    a.quality = keys.text("quality");
    keys.read("stage", a.stage, [](const std::string& word) { return parse_stage_kind(word); });
    keys.read("strings", a.strings, [](const std::string& word) { return StringSet::parse(word); });
    keys.read("grip", a.grip, [](const std::string& word) { return Grip::parse(word, strings_of(word)); });
    keys.read("place", a.place, place_of);
    a.chord.clear();
    text("chord", a.chord);
    text("bass_degree", a.bass_degree);
    text("question", a.question);
    if (held(object, "from")) keys.read("from", a.from.emplace(), from_of);
    if (held(object, "motion")) keys.read("motion", a.motion.emplace(), motion_of);
    if (held(object, "tempo_bpm")) a.tempo_bpm = keys.number("tempo_bpm", 0, kLargest);
}

void read_outcome(JsonKeys& keys, const Json& object, Attempt& a, std::string& trouble) {
    keys.read("verdict", a.verdict, verdict_of);
    a.confidence = keys.number("confidence", 0, 1);
    if (held(object, "heard")) {
        for (const Json& note : keys.list("heard", kMostHeard)) {
            if (note.is_number_integer()) a.heard.emplace_back(static_cast<int>(std::clamp<std::int64_t>(note.get<std::int64_t>(), -1, 128)));
            else keys.complain("heard", "holds " + shown(note) + "; numbers of MIDI are wanted");
        }
    }
    if (held(object, "answered")) a.answered = keys.text("answered");
    if (held(object, "faults")) {
        for (const Json& fault : keys.list("faults", kMostFaults)) a.faults.push_back(fault_from(fault, "faults[" + std::to_string(a.faults.size()) + "]", trouble));
    }
    if (held(object, "off_ms")) a.off_ms = keys.number("off_ms", -kLargest, kLargest);
    if (held(object, "answer_s")) a.answer_s = keys.number("answer_s", 0, kLargest);
    if (held(object, "try_number")) a.try_number = static_cast<int>(keys.whole("try_number", 1, 1'000'000));
    if (held(object, "helped")) {
        if (object.at("helped").is_boolean()) a.helped = object.at("helped").get<bool>();
        else keys.complain("helped", "is " + shown(object.at("helped")) + "; true or false is wanted");
    }
}

}  // namespace

Json attempt_fields(const Attempt& a) {
    Json heard = Json::array(), faults = Json::array();
    for (const MidiNote note : a.heard) heard.push_back(note.number());
    for (const Fault& f : a.faults) {
        faults.push_back({{"kind", word(f.kind)}, {"string", f.string ? Json(f.string->number()) : Json(nullptr)}, {"frets", f.frets}, {"asked", number_or_null(f.asked)},
                          {"heard", number_or_null(f.heard)}, {"probability", f.probability}});
    }
    return {{"id", a.id}, {"at", time_text(a.at_ms, a.utc_offset_min)}, {"player", a.player}, {"guitar", a.guitar}, {"input", a.input}, {"asking", word(a.asking)},
            {"family", name(a.family)}, {"root", a.root.text()}, {"quality", a.quality}, {"stage", name(a.stage)}, {"strings", a.strings.text()}, {"chord", a.chord},
            {"grip", a.grip.text()}, {"bass_degree", a.bass_degree}, {"place", word(a.place)}, {"from", a.from ? Json(word(*a.from)) : Json(nullptr)},
            {"motion", a.motion ? Json(kMotions[std::clamp(*a.motion, -1, 1) + 1]) : Json(nullptr)}, {"tempo_bpm", or_null(a.tempo_bpm)}, {"question", a.question},
            {"verdict", word(a.verdict)}, {"confidence", a.confidence}, {"heard", std::move(heard)}, {"answered", a.answered}, {"faults", std::move(faults)},
            {"off_ms", or_null(a.off_ms)}, {"answer_s", or_null(a.answer_s)}, {"try_number", a.try_number}, {"helped", a.helped}};
}

Result<Attempt> attempt_from(const Json& object) {
    std::string trouble;
    JsonKeys keys(object, "", trouble);
    Attempt a;
    if (held(object, "id")) a.id = keys.text("id");
    WrittenTime at;
    keys.read("at", at, parse_time);
    a.at_ms = at.at_ms;
    a.utc_offset_min = at.utc_offset_min;
    a.player = keys.text("player");
    if (held(object, "guitar")) a.guitar = keys.text("guitar");
    if (held(object, "input")) a.input = keys.text("input");
    read_asked(keys, object, a);
    read_outcome(keys, object, a, trouble);
    if (!trouble.empty()) return Error{trouble};
    if (auto error = check(a)) return *error;
    return a;
}

}  // namespace gripline
