#include "judge/judge.h"

namespace gripline {

struct Judge::Inside {
    Target target;
};

Judge::Judge(const JudgeConfig&) : inside_(std::make_unique<Inside>()) {}
Judge::~Judge() = default;
Judge::Judge(Judge&&) noexcept = default;
Judge& Judge::operator=(Judge&&) noexcept = default;
void Judge::ask(const Target& target) { inside_->target = target; }
std::optional<Verdict> Judge::consider(const dsp::StrumEvidence& evidence) {
    if (!evidence.last) return std::nullopt;
    return verdict_now(evidence);
}
Verdict Judge::verdict_now(const dsp::StrumEvidence&) const { return {}; }
Verdict transcribe(const dsp::StrumEvidence&, double) { return {}; }

}  // namespace gripline
