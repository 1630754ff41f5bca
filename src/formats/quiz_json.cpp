#include "formats/quiz_json.h"

#include "formats/quiz_fields.h"
#include "formats/verdict_fields.h"

namespace gripline {

nlohmann::ordered_json question_fields(const QuizQuestion& question) {
    nlohmann::ordered_json out;
    out["part"] = question.part + 1;
    out["asked"] = std::string(word(question.asking));
    out["chord"] = question.step.chord;
    out["bass"] = question.step.bass;
    out["grip"] = question.step.grip.text();
    out["quality"] = question.quality;
    out["root"] = question.root.text();
    out["family"] = std::string(name(question.family));
    out["stage"] = std::string(name(question.stage));
    out["strings"] = question.strings.text();
    out["role"] = std::string(word(question.role));
    if (question.from) out["from"] = std::string(word(*question.from));
    if (question.motion) out["motion"] = *question.motion > 0 ? "up" : *question.motion < 0 ? "down" : "same";
    if (!question.joint.empty()) out["joint"] = question.joint;
    if (question.beat) {
        out["bar"] = question.beat->bar;
        out["beat"] = question.beat->beat;
        out["at_s"] = rounded(question.beat->at_s, 3);
    }
    return out;
}

std::string quiz_question_json(std::size_t number, const QuizQuestion& question) {
    nlohmann::ordered_json out;
    out["question"] = number;
    out.update(question_fields(question));
    return dumped(out);
}

}  // namespace gripline
