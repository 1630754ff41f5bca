#include "cli/marking.h"

namespace gripline {

namespace {

/// So long after its first string a strum is known: its first evidence comes 0.10 s after it, and onsets and hops add less than 0.1 s.
constexpr double kNewsBehind_s = 0.2;

}  // namespace

TakeMarker::TakeMarker(const std::vector<const StrumCase*>& cases, std::size_t explain, const JudgeConfig& judge) : explain_(explain), open_(cases.size()) {
    waiting_.reserve(cases.size());
    for (const StrumCase* strum : cases) {
        Waiting waiting{.judge = Judge(judge), .answer = {}};
        waiting.from_s = strum->from_s;
        waiting.judge.ask(strum->target);
        waiting_.push_back(std::move(waiting));
    }
}

void TakeMarker::consider(const dsp::StrumEvidence& evidence) {
    for (Waiting& waiting : waiting_) {
        if (waiting.settled) continue;
        if (waiting.strum == 0 && waiting.knock_s && evidence.onset_s > *waiting.knock_s + kKnockAhead_s) {
            settle(waiting);
            continue;
        }
        if (waiting.strum == 0 && evidence.step == 0 && evidence.onset_s >= waiting.from_s - kOnsetSlack_s) waiting.strum = evidence.strum;
        if (waiting.strum != evidence.strum) continue;
        auto verdict = waiting.judge.consider(evidence);
        if (!verdict && evidence.last) verdict = waiting.judge.verdict_now(evidence);
        if (!verdict) continue;
        waiting.answer.verdict = std::move(*verdict);
        waiting.answer.leading = waiting.judge.leading(explain_);
        waiting.answer.any_strum = true;
        waiting.at_its_end = evidence.last;
        if (waiting.answer.verdict.kind != VerdictKind::unheard) {
            settle(waiting);
            continue;
        }
        if (!waiting.knock_s) waiting.knock_s = evidence.onset_s;
        waiting.strum = 0;
    }
}

void TakeMarker::settle(Waiting& waiting) noexcept {
    waiting.settled = true;
    --open_;
}

void TakeMarker::pass(double stream_s) {
    for (Waiting& waiting : waiting_)
        if (!waiting.settled && waiting.strum == 0 && waiting.knock_s && stream_s > *waiting.knock_s + kKnockAhead_s + kNewsBehind_s) settle(waiting);
}

std::vector<CaseAnswer> TakeMarker::finish(const std::string& error) {
    std::vector<CaseAnswer> out;
    out.reserve(waiting_.size());
    for (Waiting& waiting : waiting_) {
        if (!waiting.settled || waiting.at_its_end) waiting.answer.error = error;
        out.push_back(std::move(waiting.answer));
    }
    return out;
}

}  // namespace gripline
