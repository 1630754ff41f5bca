#include "formats/overrules_json.h"

#include <fstream>
#include <sstream>

#include "formats/json_keys.h"
#include "formats/verdict_fields.h"

namespace gripline {
namespace {

using Json = nlohmann::ordered_json;

constexpr std::string_view kOverrulesFormat = "gripline quiz overrules 1";

}  // namespace

Result<std::vector<Overrule>> load_overrules(const std::filesystem::path& folder, const QuizResult& result) {
    std::vector<Overrule> out;
    const auto path = folder / kOverrulesFile;
    std::error_code failed;
    if (!std::filesystem::exists(path, failed)) return out;
    std::ostringstream text;
    text << std::ifstream(path, std::ios::binary).rdbuf();
    const Json json = Json::parse(text.str(), nullptr, false);
    std::string trouble;
    JsonKeys keys(json, "", trouble);
    if (keys.good() && keys.text("format") != kOverrulesFormat) keys.complain("format", "can't be read; this gripline reads \"" + std::string(kOverrulesFormat) + "\"");
    if (keys.good() && keys.text("run") != result.run) keys.complain("run", "is another run's");
    const Json& list = keys.list("marks", result.answers.size());
    for (std::size_t i = 0; i < list.size() && trouble.empty(); ++i) {
        JsonKeys mark(list[i], "marks[" + std::to_string(i) + "]", trouble);
        Overrule& one = out.emplace_back();
        one.question = static_cast<int>(mark.whole("question", 1, static_cast<std::int64_t>(result.answers.size()))) - 1;
        const std::string verdict = mark.text("verdict");
        one.right = verdict == "right";
        if (verdict != "right" && verdict != "wrong") mark.complain("verdict", gripline::quoted(verdict) + " is unknown; allowed: right, wrong");
        one.why = mark.text("why");
    }
    if (!trouble.empty()) return Error{path.string() + ": " + trouble};
    return out;
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
