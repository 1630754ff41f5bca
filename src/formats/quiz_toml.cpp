#include "formats/quiz_toml.h"

#include <fstream>
#include <sstream>

#include "base/text.h"
#include "chart/chart_library.h"
#include "chart/chart_text.h"
#include "formats/toml_keys.h"

namespace gripline {
namespace {

constexpr std::size_t kMostQuiz_bytes = 256UL * 1024;
constexpr std::size_t kMostTitle_bytes = 200;  // two lines of a wide terminal

/// Reads each text of a list by `parse`; the first that can't be read is told.
template <class T, class Parse>
void read_each(TomlKeys& keys, std::string_view key, std::vector<T>& out, Parse parse) {
    std::vector<std::string> texts;
    keys.texts(key, texts);
    if (texts.empty() || !keys.good()) return;
    out.clear();
    for (const std::string& text : texts) {
        auto read = parse(text);
        if (!read) return keys.complain(key, read.error().message);
        out.push_back(std::move(*read));
    }
}

/// Reads one text by `parse`.
template <class T, class Parse>
void read_one(TomlKeys& keys, std::string_view key, T& out, Parse parse) {
    if (!keys.has(key)) {
        std::string nothing;
        keys.text(key, nothing);  // known from now on
        return;
    }
    std::string text;
    keys.text(key, text);
    if (!keys.good()) return;
    auto read = parse(text);
    if (read) out = std::move(*read);
    else keys.complain(key, read.error().message);
}

void read_title(TomlKeys& keys, std::string& title) {
    keys.text("title", title);
    if (title.size() > kMostTitle_bytes) keys.complain("title", "is longer than " + std::to_string(kMostTitle_bytes) + " bytes; shorten it");
}

Result<Asking> parse_quiz_asking(const std::string& text) {
    const auto asking = parse_asking(text);
    if (asking && (*asking == Asking::shown || *asking == Asking::named || *asking == Asking::by_ear)) return *asking;
    return Error{"unknown way of asking " + gripline::quoted(text) + "; allowed: shown, named, by ear"};
}

Result<std::string> parse_quality(const std::string& text) {
    const auto chord = parse_chart_symbol("C" + text);
    if (!chord) return Error{"unknown quality " + gripline::quoted(text) + "; write what stands behind the root, such as \"7\", \"m7\", \"6\""};
    if (chord->quality == nullptr || chord->bass) return Error{"quality " + gripline::quoted(text) + " has no scale of its own here; \"7\", \"m7\", \"6\", \"m6\", \"m7b5\" have"};
    return std::string(chord->quality->suffix);
}

Result<Sounds> parse_role(const std::string& text) {
    for (const Sounds role : {Sounds::chord, Sounds::passing, Sounds::approach})
        if (word(role) == text) return role;
    return Error{"unknown role " + gripline::quoted(text) + "; allowed: chord, passing, approach"};
}

Result<From> parse_side(const std::string& text) {
    for (const From side : {From::below, From::above})
        if (word(side) == text) return side;
    return Error{"unknown side " + gripline::quoted(text) + "; allowed: below, above"};
}

void read_skills(TomlKeys& keys, SkillsAsked& skills) {
    read_each(keys, "qualities", skills.qualities, parse_quality);
    read_each(keys, "keys", skills.keys, [](const std::string& text) { return NoteName::parse(text); });
    read_each(keys, "roles", skills.roles, parse_role);
    read_each(keys, "sides", skills.sides, parse_side);
    read_one(keys, "stage", skills.stage, parse_stage_kind);
    const bool usual = !keys.has("strings");
    read_one(keys, "strings", skills.strings, [](const std::string& text) { return StringSet::parse(text); });
    if (usual) skills.strings = string_sets(skills.stage).front();
}

/// "8x89xx C7": a grip and, where it is not shown, its chord.
Result<NamedGrip> parse_named_grip(const std::string& text, const Quiz& quiz, Asking asking) {
    const auto blank = text.find(' ');
    const auto grip = Grip::parse(text.substr(0, blank), quiz.tuning.strings());
    if (!grip) return grip.error();
    if (grip->notes(quiz.tuning, quiz.capo).empty()) return Error{gripline::quoted(text) + " sounds no string"};
    NamedGrip out{*grip, blank == std::string::npos ? "" : std::string(trimmed(text.substr(blank)))};
    if (out.chord.empty()) {
        if (asking == Asking::named) return Error{gripline::quoted(text) + " has no chord, but is to be asked by its name; write it behind the grip, such as \"8x89xx C7\""};
        return out;
    }
    const auto chord = parse_chart_symbol(out.chord);
    if (!chord) return chord.error();
    return out;
}

/// A chart of the library, or a file beside the quiz.
Result<std::string> open_quiz_chart(const std::string& name, const std::filesystem::path& folder) {
    for (const LibraryChart& chart : chart_library())
        if (chart.name == name) return std::string(chart.text);
    const auto path = folder / name;
    std::error_code failed;
    std::ifstream in(path, std::ios::binary);
    if (!in || !std::filesystem::is_regular_file(path, failed)) return Error{gripline::quoted(name) + " is neither a chart of the library (gripline line --charts) nor a file beside the quiz"};
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

void read_chart(TomlKeys& keys, ChartAsked& asked, const std::filesystem::path& folder) {
    const std::string_view where = keys.has("chart") ? "chart" : "chart-text";
    if (keys.has("chart") && keys.has("chart-text")) return keys.complain("chart-text", "and \"chart\" can't both be there; leave one out");
    std::string name;
    keys.text("chart", name);
    keys.text("chart-text", asked.text);
    keys.text("key", asked.key);
    if (!keys.good()) return;
    if (!name.empty() || where == "chart") {
        auto text = open_quiz_chart(name, folder);
        if (!text) return keys.complain(where, text.error().message);
        asked.text = *text;
    }
    if (const auto chart = parse_chart(asked.text); !chart) return keys.complain(where, "in the chart, " + chart.error().message);
    if (const auto key = Key::parse(asked.key.empty() ? "C" : asked.key); !key) return keys.complain("key", key.error().message);
    double tempo_bpm = 0.0;
    const bool walked = keys.has("tempo-bpm");
    keys.number("tempo-bpm", kLeastTempo_bpm, kMostTempo_bpm, tempo_bpm);
    if (walked) asked.tempo_bpm = tempo_bpm;
}

void read_part(TomlKeys& keys, QuizPart& part, const Quiz& quiz, const std::filesystem::path& folder) {
    read_title(keys, part.title);
    read_one(keys, "asked", part.asking, parse_quiz_asking);
    std::int64_t number = part.number, pass = part.pass_percent;
    const bool has_number = keys.has("number");
    keys.whole("number", 1, kMostQuizQuestions, number);
    keys.whole("pass-percent", 0, 100, pass);
    part.number = static_cast<int>(number);
    part.pass_percent = static_cast<int>(pass);
    if (keys.has("grips")) {
        GripsAsked grips;
        read_each(keys, "grips", grips.grips, [&](const std::string& text) { return parse_named_grip(text, quiz, part.asking); });
        part.what = std::move(grips);
    } else if (keys.has("chart") || keys.has("chart-text")) {
        ChartAsked chart;
        read_chart(keys, chart, folder);
        if (chart.tempo_bpm && part.asking == Asking::by_ear) keys.complain("asked", "a line walked in time can't be asked by ear; \"named\" or \"shown\" can");
        part.what = std::move(chart);
    } else {
        SkillsAsked skills;
        keys.need("qualities", "a part asks \"qualities\" (skills), \"grips\" or a \"chart\"");
        read_skills(keys, skills);
        if (!has_number) keys.need("number", "a part that draws from skills says how many questions it asks");
        part.what = std::move(skills);
    }
    keys.finish();
}

void read_whole(TomlKeys& keys, Quiz& quiz) {
    keys.need("format", "a quiz file says format = \"" + std::string(kQuizFormat) + "\"");
    std::string format(kQuizFormat);
    keys.text("format", format);
    if (format != kQuizFormat) keys.complain("format", gripline::quoted(format) + " can't be read; this gripline reads \"" + std::string(kQuizFormat) + "\"");
    keys.need("title", "a quiz has a title");
    read_title(keys, quiz.title);
    if (trimmed(quiz.title).empty()) keys.complain("title", "is empty; a quiz has a title");
    read_one(keys, "order", quiz.order, [](const std::string& text) { return parse_quiz_order(text); });
    std::int64_t seed = 1, tries = quiz.tries, capo = 0;
    keys.whole("seed", 0, INT64_MAX, seed);
    keys.whole("tries", 1, kMostQuizTries, tries);
    keys.whole("capo", 0, 12, capo);
    quiz.seed = static_cast<std::uint64_t>(seed);
    quiz.tries = static_cast<int>(tries);
    quiz.capo = static_cast<int>(capo);
    keys.number("question-time-s", kLeastQuestionTime_s, kMostQuestionTime_s, quiz.question_time_s);
    keys.number("time-s", 0.0, kMostQuizTime_s, quiz.time_s);
    keys.number("a4-hz", 415.0, 466.0, quiz.a4_hz);
    keys.flag("show-after-miss", quiz.show_after_miss);
    keys.flag("pause", quiz.may_pause);
    read_one(keys, "tuning", quiz.tuning, [](const std::string& text) { return Tuning::parse(text); });
}

Result<Quiz> quiz_of(const toml::table& table, const std::filesystem::path& folder) {
    Quiz quiz;
    std::string trouble;
    TomlKeys keys(table, "", trouble);
    read_whole(keys, quiz);
    if (!trouble.empty()) return Error{trouble};
    const auto* parts = table.get_as<toml::array>("part");
    if (parts == nullptr || parts->empty() || !parts->is_array_of_tables()) return Error{"key \"part\": there is none; a quiz has at least one [[part]]"};
    if (parts->size() > static_cast<std::size_t>(kMostQuizParts)) return Error{"key \"part\": " + std::to_string(parts->size()) + " parts are too many; at most " + std::to_string(kMostQuizParts) + " are allowed"};
    for (std::size_t i = 0; i < parts->size(); ++i) {
        TomlKeys part_keys(*parts->get_as<toml::table>(i), "part " + std::to_string(i + 1) + ", ", trouble);
        read_part(part_keys, quiz.parts.emplace_back(), quiz, folder);
        if (!trouble.empty()) return Error{trouble};
        const auto pool = question_pool(quiz, i);
        const std::string_view what = part_keys.has("grips") ? "grips" : part_keys.has("chart") ? "chart" : part_keys.has("chart-text") ? "chart-text" : "qualities";
        if (!pool) part_keys.complain(what, pool.error().message);
        else if (what != "qualities" && static_cast<std::size_t>(quiz.parts[i].number) > pool->size())
            part_keys.complain("number", std::to_string(quiz.parts[i].number) + " is too many; there are " + std::to_string(pool->size()) + " to ask");
        if (!trouble.empty()) return Error{trouble};
    }
    keys.known("part");
    keys.finish();
    if (!trouble.empty()) return Error{trouble};
    if (const auto drawn = draw_questions(quiz, ""); !drawn) return Error{"key \"number\": " + drawn.error().message};
    return quiz;
}

}  // namespace

Result<Quiz> parse_quiz(std::string_view text, const std::filesystem::path& folder) {
    if (text.size() > kMostQuiz_bytes) return Error{std::to_string(text.size()) + " bytes are too many; a quiz has at most " + std::to_string(kMostQuiz_bytes)};
    try {
        return quiz_of(toml::parse(text), folder);
    } catch (const toml::parse_error& error) {
        std::string what;
        for (const char c : error.description()) what += static_cast<unsigned char>(c) < 0x20 ? ' ' : c;
        return Error{"line " + std::to_string(error.source().begin.line) + ": this is no TOML (toml.io): " + what};
    }
}

Result<Quiz> load_quiz(const std::filesystem::path& path) {
    std::error_code failed;
    std::ifstream in(path, std::ios::binary);
    if (!in || !std::filesystem::is_regular_file(path, failed)) return Error{path.string() + ": can't be read; name a quiz file"};
    std::string text(kMostQuiz_bytes + 1, '\0');
    in.read(text.data(), static_cast<std::streamsize>(text.size()));
    text.resize(static_cast<std::size_t>(in.gcount()));
    auto quiz = parse_quiz(text, path.parent_path());
    if (!quiz) return Error{path.string() + ": " + quiz.error().message};
    return quiz;
}

}  // namespace gripline
