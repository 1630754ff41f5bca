#include "formats/overrules_json.h"

#include <fstream>
#include <sstream>

#include "formats/json_keys.h"
#include "formats/verdict_fields.h"

namespace gripline {
namespace {

using Json = nlohmann::ordered_json;

constexpr std::string_view kOverrulesFormat = "gripline quiz overrules 1";

constexpr std::size_t kMostMarks = 10000;  // of an older run, whose number of questions is not known: against files that are nothing of the kind

/// What a file says, whichever run it is of.
struct OverrulesRead {
    std::string run;
    std::vector<Overrule> marks;
};

Result<OverrulesRead> read_overrules(const std::filesystem::path& path, std::size_t questions) {
    OverrulesRead out;
    std::ostringstream text;
    text << std::ifstream(path, std::ios::binary).rdbuf();
    const Json json = Json::parse(text.str(), nullptr, false);
    std::string trouble;
    JsonKeys keys(json, "", trouble);
    if (keys.good() && keys.text("format") != kOverrulesFormat) keys.complain("format", "can't be read; this gripline reads \"" + std::string(kOverrulesFormat) + "\"");
    if (keys.good()) out.run = keys.text("run");
    const Json& list = keys.list("marks", questions);
    for (std::size_t i = 0; i < list.size() && trouble.empty(); ++i) {
        JsonKeys mark(list[i], "marks[" + std::to_string(i) + "]", trouble);
        Overrule& one = out.marks.emplace_back();
        one.question = static_cast<int>(mark.whole("question", 1, static_cast<std::int64_t>(questions))) - 1;
        const std::string verdict = mark.text("verdict");
        one.right = verdict == "right";
        if (verdict != "right" && verdict != "wrong") mark.complain("verdict", gripline::quoted(verdict) + " is unknown; allowed: right, wrong");
        one.why = mark.text("why");
    }
    if (!trouble.empty()) return Error{path.string() + ": " + trouble};
    return out;
}

}  // namespace

Result<std::vector<Overrule>> load_overrules(const std::filesystem::path& folder, const QuizResult& result) {
    const auto path = folder / kOverrulesFile;
    std::error_code failed;
    if (!std::filesystem::exists(path, failed)) return std::vector<Overrule>{};
    const auto any = read_overrules(path, kMostMarks);  // an older run may have had more questions
    if (!any) return any.error();
    if (any->run != result.run) return Error{path.string() + ": holds marks by ear of an older marking of this take, which do not count; listen again and say them anew with gripline quiz overrule"};
    const auto mine = read_overrules(path, result.answers.size());
    if (!mine) return mine.error();
    return mine->marks;
}

Result<std::optional<OldOverrules>> set_aside_old_overrules(const std::filesystem::path& folder, const QuizResult& result) {
    const auto path = folder / kOverrulesFile;
    std::error_code failed;
    if (!std::filesystem::exists(path, failed)) return std::optional<OldOverrules>();
    const auto read = read_overrules(path, kMostMarks);
    if (!read) return read.error();
    if (read->run == result.run) return std::optional<OldOverrules>();
    auto aside = folder / "overruled-before.json";
    for (int i = 2; std::filesystem::exists(aside, failed); ++i) aside = folder / ("overruled-before-" + std::to_string(i) + ".json");
    std::filesystem::rename(path, aside, failed);
    if (failed) return Error{path.string() + ": can't be renamed to " + aside.filename().string() + ": " + failed.message()};
    return std::optional(OldOverrules{aside.string(), read->marks});
}

Result<std::string> save_overrules(const std::filesystem::path& folder, const QuizResult& result, const std::vector<Overrule>& overruled) {
    Json json;
    json["format"] = kOverrulesFormat;
    json["run"] = result.run;
    json["marks"] = Json::array();
    for (const Overrule& one : overruled) json["marks"].push_back({{"question", one.question + 1}, {"verdict", one.right ? "right" : "wrong"}, {"why", one.why}});
    const std::string path = (folder / kOverrulesFile).string(), fresh = path + ".new";
    {
        std::ofstream file(fresh, std::ios::binary | std::ios::trunc);
        file << json.dump(1, ' ', false, Json::error_handler_t::replace) << '\n';
        if (!file.flush()) return Error{path + ": can't be written; check the folder and that there is room"};
    }
    std::error_code failed;
    std::filesystem::rename(fresh, path, failed);
    if (failed) return Error{path + ": can't be written: " + failed.message()};
    return path;
}

}  // namespace gripline
