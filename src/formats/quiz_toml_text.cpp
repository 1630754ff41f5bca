// Writes quiz files. The other half of quiz_toml.h.
#include <charconv>
#include <array>

#include "formats/digest.h"
#include "formats/quiz_toml.h"

namespace gripline {
namespace {

/// A basic string of TOML: quotes, backslashes and control characters escaped.
std::string text_of(std::string_view text) {
    constexpr std::string_view kDigits = "0123456789ABCDEF";
    std::string out = "\"";
    for (const char c : text) {
        const auto byte = static_cast<unsigned char>(c);
        if (c == '"' || c == '\\') (out += '\\') += c;
        else if (c == '\n') out += "\\n";
        else if (byte < 0x20 || byte == 0x7F) ((out += "\\u00") += kDigits[byte >> 4U]) += kDigits[byte & 15U];
        else out += c;
    }
    return out + '"';
}

/// The shortest decimal that reads back to the same number, with a point or an exponent: TOML tells floats from whole numbers.
std::string number_of(double value) {
    std::array<char, 32> digits{};
    const auto end = std::to_chars(digits.data(), digits.data() + digits.size(), value, std::chars_format::fixed);
    std::string out(digits.data(), end.ptr);
    return out.find('.') == std::string::npos ? out + ".0" : out;
}

void put(std::string& out, std::string_view key, const std::string& value) { ((out += key) += " = ") += value + "\n"; }

template <class T, class Text>
std::string list_of(const std::vector<T>& values, Text text) {
    std::string out = "[";
    for (const T& value : values) out += (out.size() > 1 ? ", " : "") + text_of(text(value));
    return out + "]";
}

struct PartWriter {
    std::string& out;
    void operator()(const SkillsAsked& asked) const {
        put(out, "qualities", list_of(asked.qualities, [](const std::string& quality) { return quality; }));
        put(out, "keys", list_of(asked.keys, [](NoteName key) { return key.text(); }));
        put(out, "roles", list_of(asked.roles, [](Sounds role) { return word(role); }));
        put(out, "sides", list_of(asked.sides, [](From side) { return word(side); }));
        put(out, "stage", text_of(name(asked.stage)));
        put(out, "strings", text_of(asked.strings.text()));
    }
    void operator()(const GripsAsked& asked) const {
        put(out, "grips", list_of(asked.grips, [](const NamedGrip& grip) { return grip.grip.text() + (grip.chord.empty() ? "" : " " + grip.chord); }));
    }
    void operator()(const ChartAsked& asked) const {
        put(out, "chart-text", text_of(asked.text));
        if (!asked.key.empty()) put(out, "key", text_of(asked.key));
        if (asked.tempo_bpm) put(out, "tempo-bpm", number_of(*asked.tempo_bpm));
    }
};

}  // namespace

std::string quiz_toml(const Quiz& quiz) {
    std::string out;
    put(out, "format", text_of(kQuizFormat));
    put(out, "title", text_of(quiz.title));
    put(out, "order", text_of(word(quiz.order)));
    put(out, "seed", std::to_string(quiz.seed));
    put(out, "question-time-s", number_of(quiz.question_time_s));
    put(out, "time-s", number_of(quiz.time_s));
    put(out, "tries", std::to_string(quiz.tries));
    put(out, "show-after-miss", quiz.show_after_miss ? "true" : "false");
    put(out, "pause", quiz.may_pause ? "true" : "false");
    put(out, "tuning", text_of(quiz.tuning.text()));
    put(out, "capo", std::to_string(quiz.capo));
    put(out, "a4-hz", number_of(quiz.a4_hz));
    for (const QuizPart& part : quiz.parts) {
        out += "\n[[part]]\n";
        put(out, "title", text_of(part.title));
        put(out, "asked", text_of(word(part.asking)));
        if (part.number > 0) put(out, "number", std::to_string(part.number));
        put(out, "pass-percent", std::to_string(part.pass_percent));
        std::visit(PartWriter{out}, part.what);
    }
    return out;
}

std::string quiz_fingerprint(const Quiz& quiz) { return sha256_hex(quiz_toml(quiz)); }

}  // namespace gripline
