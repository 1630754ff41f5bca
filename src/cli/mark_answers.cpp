#include "cli/mark_answers.h"

#include "formats/verdict_json.h"

namespace gripline {

MarkAnswers::MarkAnswers(const MarkOptions& options, std::ostream& out) : json_(options.json), out_(out), table_(out) {}

void MarkAnswers::give(const CaseRow& row, const CaseAnswer& answer) {
    ++rows_;
    if (!answer.error.empty()) {
        ++errors_;
        if (first_error_.empty()) first_error_ = answer.error;
        if (json_) out_ << error_json(row.name, answer.error) << '\n';
    } else {
        ++(answer.verdict.kind == VerdictKind::right ? right_ : answer.verdict.kind == VerdictKind::wrong ? wrong_ : unheard_);
        if (json_) out_ << answer_json(row.name, answer.verdict, answer.any_strum, answer.leading) << '\n';
    }
    if (json_) return;
    table_.row(row.name, row.strum ? &*row.strum : nullptr, answer);
    for (const Weighed& hypothesis : answer.leading) out_ << "    " << hypothesis_text(hypothesis) << '\n';
}

int MarkAnswers::finish(std::ostream& err) {
    out_.flush();
    if (!json_) out_ << '\n' << rows_ << " strums: " << right_ << " right, " << wrong_ << " wrong, " << unheard_ << " unheard, " << errors_ << " that could not be marked\n";
    if (errors_ == 0) return kExitDone;
    err << "gripline: " << errors_ << " of " << rows_ << " rows could not be marked; the first: " << first_error_ << '\n';
    return kExitBadInput;
}

}  // namespace gripline
