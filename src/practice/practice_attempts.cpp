#include "practice/practice_attempts.h"

#include <algorithm>
#include <utility>

#include "practice/attempt_check.h"

namespace gripline {

std::string degree_in_scale(NoteName root, Family family, PitchClass note) {
    for (const ScaleStep& step : harmonised_scale(root, family))
        if (step.name.pitch_class() == note) return step.degree.degree_text();
    return {};
}

void take_verdict(const Verdict& verdict, Attempt& attempt) {
    attempt.verdict = verdict.kind;
    attempt.confidence = std::clamp(verdict.confidence, 0.0, 1.0);
    attempt.heard = verdict.heard;
    if (attempt.heard.size() > kMostHeard) attempt.heard.resize(kMostHeard, MidiNote(0));
    attempt.faults = verdict.faults;
    if (attempt.faults.size() > kMostFaults) attempt.faults.resize(kMostFaults);
}

void PracticeAttempts::asked(bool anew, double stream_s) {
    open_from_s_ = stream_s;
    if (!anew) return;
    try_number_ = 1;
    helped_ = false;
    bass_before_ = std::exchange(bass_, std::nullopt);
}

void PracticeAttempts::heard(const PracticeStep& step, const Verdict& verdict, bool in_doubt) {
    Attempt attempt = step.asked;
    bass_ = step.notes().empty() ? std::nullopt : std::optional(step.notes().front().note);
    if (!attempt.motion && bass_ && bass_before_) attempt.motion = (*bass_ > *bass_before_) - (*bass_ < *bass_before_);
    attempt.try_number = try_number_;
    attempt.helped = helped_ && attempt.asking != Asking::shown;
    if (open_from_s_ && verdict.onset_s >= *open_from_s_) attempt.answer_s = verdict.onset_s - *open_from_s_;
    take_verdict(verdict, attempt);
    open_from_s_.reset();
    if (verdict.kind == VerdictKind::wrong) ++try_number_;
    if (in_doubt) in_doubt_.push_back(std::move(attempt));
    else ready_.push_back(std::move(attempt));
}

void PracticeAttempts::stand() {
    for (Attempt& attempt : in_doubt_) ready_.push_back(std::move(attempt));
    in_doubt_.clear();
}

void PracticeAttempts::take_back() {
    try_number_ = std::max(1, try_number_ - static_cast<int>(in_doubt_.size()));
    in_doubt_.clear();
}

std::optional<Attempt> PracticeAttempts::take() {
    if (ready_.empty()) return std::nullopt;
    Attempt attempt = std::move(ready_.front());
    ready_.pop_front();
    return attempt;
}

}  // namespace gripline
