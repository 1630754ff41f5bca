// Writes quiz files. The other half of quiz_toml.h.
#include "formats/digest.h"
#include "formats/quiz_toml.h"
#include "formats/toml_text.h"

namespace gripline {
namespace {

void put(std::string& out, std::string_view key, const std::string& value) { ((out += key) += " = ") += value + "\n"; }

template <class T, class Text>
std::string list_of(const std::vector<T>& values, Text text) {
    std::string out = "[";
    for (const T& value : values) out += (out.size() > 1 ? ", " : "") + toml_text(text(value));
    return out + "]";
}

struct PartWriter {
    std::string& out;
    void operator()(const SkillsAsked& asked) const {
        put(out, "qualities", list_of(asked.qualities, [](const std::string& quality) { return quality; }));
        put(out, "keys", list_of(asked.keys, [](NoteName key) { return key.text(); }));
        put(out, "roles", list_of(asked.roles, [](Sounds role) { return word(role); }));
        put(out, "sides", list_of(asked.sides, [](From side) { return word(side); }));
        put(out, "stage", toml_text(name(asked.stage)));
        put(out, "strings", toml_text(asked.strings.text()));
    }
    void operator()(const GripsAsked& asked) const {
        put(out, "grips", list_of(asked.grips, [](const NamedGrip& grip) { return grip.grip.text() + (grip.chord.empty() ? "" : " " + grip.chord); }));
    }
    void operator()(const ChartAsked& asked) const {
        put(out, "chart-text", toml_text(asked.text));
        if (!asked.key.empty()) put(out, "key", toml_text(asked.key));
        if (asked.tempo_bpm) put(out, "tempo-bpm", toml_number(*asked.tempo_bpm));
    }
};

}  // namespace

std::string quiz_toml(const Quiz& quiz) {
    std::string out;
    put(out, "format", toml_text(kQuizFormat));
    put(out, "title", toml_text(quiz.title));
    put(out, "order", toml_text(word(quiz.order)));
    put(out, "seed", std::to_string(quiz.seed));
    put(out, "question-time-s", toml_number(quiz.question_time_s));
    put(out, "time-s", toml_number(quiz.time_s));
    put(out, "tries", std::to_string(quiz.tries));
    put(out, "show-after-miss", quiz.show_after_miss ? "true" : "false");
    put(out, "pause", quiz.may_pause ? "true" : "false");
    put(out, "tuning", toml_text(quiz.tuning.text()));
    put(out, "capo", std::to_string(quiz.capo));
    put(out, "a4-hz", toml_number(quiz.a4_hz));
    for (const QuizPart& part : quiz.parts) {
        out += "\n[[part]]\n";
        put(out, "title", toml_text(part.title));
        put(out, "asked", toml_text(word(part.asking)));
        if (part.number > 0) put(out, "number", std::to_string(part.number));
        put(out, "pass-percent", std::to_string(part.pass_percent));
        std::visit(PartWriter{out}, part.what);
    }
    return out;
}

std::string quiz_fingerprint(const Quiz& quiz) { return sha256_hex(quiz_toml(quiz)); }

}  // namespace gripline
