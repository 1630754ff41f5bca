#include "formats/class_json.h"

#include <ostream>

#include "formats/quiz_fields.h"
#include "formats/verdict_fields.h"

namespace gripline {
namespace {

using Json = nlohmann::ordered_json;

Json mark_fields(const PartMark& mark) { return {{"right", mark.right}, {"of", mark.of}, {"percent", rounded(mark.percent(), 1)}, {"passed", mark.passed}}; }

Json kinds(const std::vector<KindRow>& rows) {
    Json out = Json::array();
    for (const KindRow& row : rows) {
        const RateInterval interval = row.count.interval();
        out.push_back({{"what", row.what}, {"right", row.count.right}, {"of", row.count.attempts}, {"share", rounded(row.count.rate(), 4)}, {"low", rounded(interval.low, 4)}, {"high", rounded(interval.high, 4)}});
    }
    return out;
}

Json student_fields(const ClassReport& report, const StudentRow& row) {
    Json out;
    out["student"] = row.student;
    out["runs"] = row.runs;
    out.update(mark_fields(row.mark));
    out["parts"] = Json::array();
    for (std::size_t i = 0; i < row.parts.size(); ++i) {
        Json part{{"title", i < report.parts.size() ? report.parts[i].title : ""}};
        part.update(mark_fields(row.parts[i]));
        out["parts"].push_back(part);
    }
    out["unsure"] = row.unsure;
    if (row.before_percent) out["before_percent"] = rounded(*row.before_percent, 1);
    out["started_ms"] = row.run->result.started_ms;
    out["hand_in_code"] = row.run->code;
    out["remarks"] = row.remarks;
    return out;
}

}  // namespace

void write_class_json(const ClassReport& report, std::ostream& out) {
    for (const StudentRow& row : report.students) out << dumped(student_fields(report, row)) << '\n';
    Json whole;
    whole["quiz"] = report.title;
    whole["fingerprint"] = report.fingerprint;
    whole["students"] = report.students.size();
    whole["passed"] = report.passed;
    whole["right"] = report.all.right;
    whole["of"] = report.all.attempts;
    whole["given_in_twice"] = report.doubles;
    if (report.mean_change) {
        whole["before"] = report.before_title;
        whole["mean_change"] = rounded(*report.mean_change, 1);
    }
    whole["questions"] = kinds(report.questions);
    whole["qualities"] = kinds(report.qualities);
    whole["keys"] = kinds(report.keys);
    whole["joints"] = kinds(report.joints);
    whole["directions"] = kinds(report.directions);
    whole["ear"] = Json::array();
    for (const EarRow& row : report.ear) whole["ear"].push_back({{"student", row.student}, {"question", row.question + 1}, {"confidence", rounded(row.confidence, 4)}});
    out << dumped(whole) << '\n';
}

}  // namespace gripline
