#include "formats/quiz_result_json.h"

#include <algorithm>
#include <fstream>

#include "formats/digest.h"
#include "formats/quiz_fields.h"
#include "formats/verdict_fields.h"

namespace gripline {
namespace {

using Json = nlohmann::ordered_json;

/// 2000 questions with 5 tries and all their faults take some 8 MB.
constexpr std::size_t kMostResult_bytes = 16UL * 1024 * 1024;
constexpr std::string_view kBeforeDigest = ",\n \"digest\": \"sha256:";
constexpr std::string_view kAfterDigest = "\"\n}\n";
constexpr std::size_t kDigestDigits = 64;
constexpr std::size_t kEndBytes = kBeforeDigest.size() + kDigestDigits + kAfterDigest.size();

Json head_fields(const QuizResult& result) {
    Json out;
    out["format"] = kResultFormat;
    out["run"] = result.run;
    out["title"] = result.title;
    out["fingerprint"] = result.fingerprint;
    out["parts"] = Json::array();
    for (const ResultPart& part : result.parts) out["parts"].push_back({{"title", part.title}, {"pass_percent", part.pass_percent}});
    out["tuning"] = result.tuning.text();
    out["capo"] = result.capo;
    out["a4_hz"] = result.a4_hz;
    out["student"] = result.student;
    out["started_ms"] = result.started_ms;
    out["utc_offset_min"] = result.utc_offset_min;
    out["used_s"] = rounded(result.used_s, 3);
    out["ending"] = std::string(word(result.ending));
    out["recording"] = result.recording;
    out["recording_sha256"] = result.recording_sha256;
    return out;
}

void read_head(JsonKeys& keys, QuizResult& result) {
    const std::string format = keys.text("format");
    if (keys.good() && format != kResultFormat) keys.complain("format", gripline::quoted(format) + " can't be read; this gripline reads \"" + std::string(kResultFormat) + "\"");
    result.run = keys.text("run");
    result.title = keys.text("title");
    result.fingerprint = keys.text("fingerprint");
    keys.read("tuning", result.tuning, [](const std::string& text) { return Tuning::parse(text); });
    result.capo = static_cast<int>(keys.whole("capo", 0, 12));
    result.a4_hz = keys.number("a4_hz", 415.0, 466.0);
    result.student = keys.text("student");
    result.started_ms = keys.whole("started_ms", 0, INT64_MAX);
    result.utc_offset_min = static_cast<int>(keys.whole("utc_offset_min", -24 * 60, 24 * 60));
    result.used_s = keys.number("used_s", 0.0, 1e9);
    const std::string ending = keys.text("ending");
    bool known = false;
    for (const QuizEnding one : {QuizEnding::finished, QuizEnding::time_over, QuizEnding::handed_in}) {
        if (word(one) != ending) continue;
        result.ending = one;
        known = true;
    }
    if (!known) keys.complain("ending", gripline::quoted(ending) + " is unknown; allowed: finished, time over, handed in");
    result.recording = keys.text("recording");
    result.recording_sha256 = keys.text("recording_sha256");
}

/// Calls `read` with the keys of each item of a list.
template <class Read>
void each(JsonKeys& keys, std::string_view key, std::size_t most, std::string& trouble, Read read) {
    const Json& list = keys.list(key, most);
    for (std::size_t i = 0; i < list.size() && trouble.empty(); ++i) {
        JsonKeys inner(list[i], keys.place(key) + "[" + std::to_string(i) + "]", trouble);
        read(inner);
    }
}

Result<QuizResult> result_of(const Json& json) {
    QuizResult result;
    std::string trouble;
    JsonKeys keys(json, "", trouble);
    read_head(keys, result);
    each(keys, "parts", kMostQuizParts, trouble, [&](JsonKeys& part) {
        const std::string title = part.text("title");
        result.parts.push_back({title, static_cast<int>(part.whole("pass_percent", 0, 100))});
    });
    JsonKeys facts(keys.object("facts"), "facts", trouble);
    if (keys.good()) read_facts(facts, result.facts);
    each(keys, "breaks", 100000, trouble, [&](JsonKeys& one) { read_break(one, result.breaks.emplace_back()); });
    each(keys, "answers", kMostQuizQuestions, trouble, [&](JsonKeys& answer) {
        QuizAnswer& out = result.answers.emplace_back();
        read_question(answer, result.tuning, result.capo, result.a4_hz, out.question);
        if (answer.good() && out.question.part >= static_cast<int>(result.parts.size())) answer.complain("part", "there is no such part");
        read_outcome(answer, out);
        each(answer, "tries", 1000, trouble, [&](JsonKeys& one) { read_try(one, result.tuning.strings(), out.tries.emplace_back()); });
    });
    if (!trouble.empty()) return Error{trouble};
    return result;
}

std::string json_trouble(std::string_view text, std::size_t byte) {
    const auto at = text.substr(0, std::min(byte, text.size()));
    const auto line = static_cast<std::size_t>(std::count(at.begin(), at.end(), '\n')) + 1;
    const auto last = at.rfind('\n');
    return "line " + std::to_string(line) + ", column " + std::to_string(at.size() - (last == std::string_view::npos ? 0 : last + 1)) + ": this is no JSON (RFC 8259)";
}

/// The text without its digest, when it has the one that belongs to it.
Result<std::string> undigested(std::string_view text) {
    const std::string_view end = text.substr(text.size() < kEndBytes ? 0 : text.size() - kEndBytes);
    if (end.starts_with(kBeforeDigest) && end.ends_with(kAfterDigest)) {
        const std::string_view before = text.substr(0, text.size() - kEndBytes);
        if (sha256_hex(before) == end.substr(kBeforeDigest.size(), kDigestDigits)) return std::string(before) + "\n}\n";
    } else if (text.find("sha256:") == std::string_view::npos) {
        try {
            const Json whole = Json::parse(text);
        } catch (const Json::parse_error& error) {
            return Error{json_trouble(text, error.byte)};
        }
        return Error{"has no digest at its end; it was cut short or is no result of a quiz"};
    }
    return Error{"was altered after it was written: its digest does not fit its bytes; ask for the file as it was handed in"};
}

/// The sounds beside a result are there and as they were.
std::optional<Error> sound_trouble(const QuizResult& result, const std::filesystem::path& folder) {
    for (const QuizAnswer& answer : result.answers) {
        if (answer.sound.file.empty()) continue;
        const auto path = folder / answer.sound.file;
        const auto digest = sha256_of_file(path);
        if (!digest) return Error{path.string() + ": the sound of an answer is missing or can't be read"};
        if (*digest != answer.sound.sha256) return Error{path.string() + ": was altered after it was recorded: its digest does not fit its bytes"};
    }
    return std::nullopt;
}

}  // namespace

std::string quiz_result_json(const QuizResult& result) {
    Json out = head_fields(result);
    out["facts"] = facts_fields(result.facts);
    out["breaks"] = Json::array();
    for (const QuizBreak& one : result.breaks) out["breaks"].push_back(break_fields(one));
    out["answers"] = Json::array();
    for (const QuizAnswer& answer : result.answers) {
        Json fields = question_fields(answer.question);
        put_outcome(fields, answer);
        fields["tries"] = Json::array();
        for (const QuizTry& one : answer.tries) fields["tries"].push_back(try_fields(one));
        out["answers"].push_back(std::move(fields));
    }
    std::string text = out.dump(1, ' ', false, Json::error_handler_t::replace);
    text.resize(text.size() - 2);  // "\n}"
    const std::string digest = sha256_hex(text);
    return text + std::string(kBeforeDigest) + digest + std::string(kAfterDigest);
}

Result<QuizResult> parse_quiz_result(std::string_view text) {
    if (text.size() > kMostResult_bytes) return Error{std::to_string(text.size()) + " bytes are too many; a result has at most " + std::to_string(kMostResult_bytes)};
    const auto whole = undigested(text);
    if (!whole) return whole.error();
    const Json json = Json::parse(*whole, nullptr, false);
    if (json.is_discarded()) return Error{"is no JSON (RFC 8259), so no result of a quiz"};
    return result_of(json);
}

Result<QuizResult> load_quiz_result(const std::filesystem::path& path) {
    std::error_code failed;
    const auto file = std::filesystem::is_directory(path, failed) ? path / kResultFile : path;
    std::ifstream in(file, std::ios::binary);
    if (!in || !std::filesystem::is_regular_file(file, failed)) return Error{file.string() + ": can't be read; name the folder of a run, or its " + std::string(kResultFile)};
    std::string text(kMostResult_bytes + 1, '\0');
    in.read(text.data(), static_cast<std::streamsize>(text.size()));
    text.resize(static_cast<std::size_t>(in.gcount()));
    auto result = parse_quiz_result(text);
    if (!result) return Error{file.string() + ": " + result.error().message};
    if (auto trouble = sound_trouble(*result, file.parent_path())) return *trouble;
    return result;
}

std::string hand_in_code(std::string_view result_text) {
    if (result_text.size() < kEndBytes) return {};
    return std::string(result_text.substr(result_text.size() - kEndBytes + kBeforeDigest.size(), 8));
}

}  // namespace gripline
