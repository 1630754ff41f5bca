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
    put({std::move(attempt)}, verdict.kind == VerdictKind::wrong, in_doubt);
}

/// wrong: what was asked needs another try.
void PracticeAttempts::put(std::vector<Attempt> attempts, bool wrong, bool in_doubt) {
    if (wrong) ++try_number_;
    if (wrong && in_doubt) ++tries_in_doubt_;
    for (Attempt& attempt : attempts) {
        if (in_doubt) in_doubt_.push_back(std::move(attempt));
        else ready_.push_back(std::move(attempt));
    }
}

void PracticeAttempts::heard_pair(const PracticeStep& approach, const PairResult& pair, bool in_doubt) {
    std::vector<Attempt> both;
    const auto add = [&](const Attempt& asked, const BeatResult& beat) {
        Attempt attempt = asked;
        attempt.asking = Asking::into_target;
        attempt.tempo_bpm = pair.tempo_bpm;
        attempt.off_ms = beat.off_ms;
        attempt.try_number = try_number_;
        attempt.helped = helped_;
        take_verdict(verdict_in_time(beat, pair.tempo_bpm), attempt);
        both.push_back(std::move(attempt));
    };
    add(approach.asked, pair.approach);
    add(approach.given->asked, pair.target);
    both.back().motion = approach.asked.from == From::below ? 1 : -1;
    put(std::move(both), kind_of(pair) == VerdictKind::wrong, in_doubt);
}

void PracticeAttempts::stand() {
    for (Attempt& attempt : in_doubt_) ready_.push_back(std::move(attempt));
    in_doubt_.clear();
    tries_in_doubt_ = 0;
}

void PracticeAttempts::take_back() {
    try_number_ = std::max(1, try_number_ - tries_in_doubt_);
    tries_in_doubt_ = 0;
    in_doubt_.clear();
}

std::optional<Attempt> PracticeAttempts::take() {
    if (ready_.empty()) return std::nullopt;
    Attempt attempt = std::move(ready_.front());
    ready_.pop_front();
    return attempt;
}

}  // namespace gripline
