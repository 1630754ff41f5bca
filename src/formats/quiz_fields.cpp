#include "formats/quiz_fields.h"

#include "formats/verdict_fields.h"

namespace gripline {
namespace {

using Json = nlohmann::ordered_json;

/// One of several words.
template <class T, std::size_t N>
void read_word(JsonKeys& keys, std::string_view key, const T (&values)[N], T& out) {
    const std::string held = keys.text(key);
    if (!keys.good()) return;
    std::string allowed;
    for (const T value : values) {
        if (word(value) == held) {
            out = value;
            return;
        }
        allowed += (allowed.empty() ? "" : ", ") + std::string(word(value));
    }
    keys.complain(key, gripline::quoted(held) + " is unknown; allowed: " + allowed);
}

Result<MidiNote> parse_midi(const std::string& text) {
    const auto note = SpelledNote::parse(text);
    if (!note) return note.error();
    return note->midi();
}

void read_notes(JsonKeys& keys, std::string_view key, std::vector<MidiNote>& out) {
    for (const Json& item : keys.list(key, 32)) {
        if (!item.is_string()) return keys.complain(key, "holds something that is no note");
        const auto note = parse_midi(item.get<std::string>());
        if (!note) return keys.complain(key, note.error().message);
        out.push_back(*note);
    }
}

void read_fault(JsonKeys& keys, int strings, Fault& fault) {
    using enum FaultKind;
    read_word(keys, "kind", {wrong_note, missing_note, extra_note, wrong_bass, shifted, nothing}, fault.kind);
    if (keys.has("string")) fault.string = StringNumber(static_cast<int>(keys.whole("string", 1, strings)));
    if (keys.has("frets")) fault.frets = static_cast<int>(keys.whole("frets", -kMaxFret, kMaxFret));
    const auto note = [&](std::string_view key, std::optional<MidiNote>& out) {
        if (!keys.has(key)) return;
        MidiNote read;
        keys.read(key, read, parse_midi);
        out = read;
    };
    note("asked", fault.asked);
    note("heard", fault.heard);
    fault.probability = keys.number("probability", 0.0, 1.0);
}

}  // namespace

Json try_fields(const QuizTry& one) {
    Json out;
    out["verdict"] = word(one.verdict);
    out["confidence"] = rounded(one.confidence, 4);
    out["answer_s"] = rounded(one.answer_s, 3);
    out["sound_at_s"] = rounded(one.sound_at_s, 3);
    out["level_db"] = rounded(one.level_db, 1);
    out["tuning_cents"] = rounded(one.tuning_cents, 1);
    out["heard"] = names(one.heard);
    out["faults"] = Json::array();
    for (const Fault& fault : one.faults) {
        Json& field = out["faults"].emplace_back();
        field["kind"] = word(fault.kind);
        if (fault.string) field["string"] = fault.string->number();
        if (fault.frets != 0) field["frets"] = fault.frets;
        if (fault.asked) field["asked"] = plain_name(*fault.asked);
        if (fault.heard) field["heard"] = plain_name(*fault.heard);
        field["probability"] = rounded(fault.probability, 4);
    }
    return out;
}

void read_try(JsonKeys& keys, int strings, QuizTry& one) {
    read_word(keys, "verdict", {VerdictKind::right, VerdictKind::wrong, VerdictKind::unheard}, one.verdict);
    one.confidence = keys.number("confidence", 0.0, 1.0);
    one.answer_s = keys.number("answer_s", -kMostQuizTime_s, kMostQuizTime_s);
    one.sound_at_s = keys.number("sound_at_s", kNotInSound, 86400.0);
    one.level_db = keys.number("level_db", -200.0, 20.0);
    one.tuning_cents = keys.number("tuning_cents", -100.0, 100.0);
    read_notes(keys, "heard", one.heard);
    const Json& faults = keys.list("faults", 64);
    for (std::size_t i = 0; i < faults.size() && keys.good(); ++i) {
        std::string trouble;
        JsonKeys inner(faults[i], "faults[" + std::to_string(i) + "]", trouble);
        read_fault(inner, strings, one.faults.emplace_back());
        if (!trouble.empty()) keys.complain(trouble.substr(0, trouble.find(": ")), trouble.substr(trouble.find(": ") + 2));
    }
}

void read_question(JsonKeys& keys, const Tuning& tuning, int capo, double a4_hz, QuizQuestion& question) {
    question.part = static_cast<int>(keys.whole("part", 1, kMostQuizParts)) - 1;
    keys.read("asked", question.asking, [](const std::string& text) { return parse_asking(text); });
    question.step.chord = keys.text("chord");
    question.step.bass = keys.text("bass");
    keys.read("grip", question.step.grip, [&](const std::string& text) { return Grip::parse(text, tuning.strings()); });
    question.step.tuning = tuning;
    question.step.capo = capo;
    question.step.a4_hz = a4_hz;
    question.quality = keys.text("quality");
    keys.read("root", question.root, [](const std::string& text) { return NoteName::parse(text); });
    keys.read("family", question.family, [](const std::string& text) { return parse_family(text); });
    keys.read("stage", question.stage, [](const std::string& text) { return parse_stage_kind(text); });
    keys.read("strings", question.strings, [](const std::string& text) { return StringSet::parse(text); });
    read_word(keys, "role", {Sounds::chord, Sounds::passing, Sounds::approach}, question.role);
    if (keys.has("from")) {
        From from = From::below;
        read_word(keys, "from", {From::below, From::above}, from);
        question.from = from;
    }
    if (keys.has("motion")) {
        const std::string motion = keys.text("motion");
        question.motion = motion == "up" ? 1 : motion == "down" ? -1 : 0;
        if (*question.motion == 0 && motion != "same") keys.complain("motion", gripline::quoted(motion) + " is unknown; allowed: up, down, same");
    }
    if (keys.has("joint")) question.joint = keys.text("joint");
    if (keys.has("bar")) {
        QuizBeat beat;
        beat.bar = static_cast<int>(keys.whole("bar", 1, kMostBars));
        beat.beat = static_cast<int>(keys.whole("beat", 1, 16));
        beat.at_s = keys.number("at_s", 0.0, 86400.0);
        question.beat = beat;
    }
}

void put_outcome(Json& out, const QuizAnswer& answer) {
    out["outcome"] = std::string(word(answer.outcome));
    out["used_s"] = rounded(answer.used_s, 3);
    out["sound"] = answer.sound.file;
    out["sound_sha256"] = answer.sound.sha256;
}

void read_outcome(JsonKeys& keys, QuizAnswer& answer) {
    using enum QuizOutcome;
    read_word(keys, "outcome", {right, wrong, unheard, not_reached}, answer.outcome);
    answer.used_s = keys.number("used_s", 0.0, 86400.0);
    answer.sound.file = keys.text("sound");
    answer.sound.sha256 = keys.text("sound_sha256");
    if (answer.sound.file.find_first_of("/\\") != std::string::npos || answer.sound.file.starts_with("."))
        keys.complain("sound", gripline::quoted(answer.sound.file) + " is no plain file name");
}

Json facts_fields(const QuizFacts& facts) {
    Json out;
    out["program"] = facts.program;
    out["system"] = facts.system;
    out["input"] = facts.input;
    out["noise_db"] = rounded(facts.noise_db, 1);
    out["level_db"] = rounded(facts.level_db, 1);
    out["tuning_cents"] = rounded(facts.tuning_cents, 1);
    out["lost_frames"] = facts.lost_frames;
    out["clock_off_s"] = rounded(facts.clock_off_s, 3);
    return out;
}

void read_facts(JsonKeys& keys, QuizFacts& facts) {
    facts.program = keys.text("program");
    facts.system = keys.text("system");
    facts.input = keys.text("input");
    facts.noise_db = keys.number("noise_db", -200.0, 20.0);
    facts.level_db = keys.number("level_db", -200.0, 20.0);
    facts.tuning_cents = keys.number("tuning_cents", -100.0, 100.0);
    facts.lost_frames = static_cast<std::uint64_t>(keys.whole("lost_frames", 0, INT64_MAX));
    facts.clock_off_s = keys.number("clock_off_s", -1e12, 1e12);
}

Json break_fields(const QuizBreak& one) {
    Json out;
    out["reason"] = one.reason;
    out["question"] = one.question + 1;
    out["at_ms"] = one.at_ms;
    out["away_s"] = rounded(one.away_s, 3);
    return out;
}

void read_break(JsonKeys& keys, QuizBreak& one) {
    one.reason = keys.text("reason");
    one.question = static_cast<int>(keys.whole("question", 1, kMostQuizQuestions + 1)) - 1;
    one.at_ms = keys.whole("at_ms", 0, INT64_MAX);
    one.away_s = keys.number("away_s", -1e12, 1e12);
}

}  // namespace gripline
