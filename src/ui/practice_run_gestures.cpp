// What muted strums ask for, as a part of practice_run.h: two or three of them say something, and are no answer to the step.
#include <algorithm>
#include <limits>

#include "ui/practice_run.h"

namespace gripline {
namespace {

/// The chain tells a strum 0.1 s after it began; only then is it sure that none has come between.
constexpr double kStrumTold_s = 0.12;

}  // namespace

void PracticeRun::forget_gestures() {
    gestures_.forget();
    gesture_.reset();
    held_.reset();
    held_pair_.reset();
    undecided_.clear();
}

/// Before the strums of the same sound are judged.
void PracticeRun::take_muted() {
    const bool wanted = config_.plan.gestures.any() && page_ == Page::practice;
    decided_s_ = wanted ? sound_.input().decided_s : std::numeric_limits<double>::infinity();
    dsp::MutedStrum muted;
    while (sound_.take_muted(muted)) {
        if (!wanted) continue;
        if (const auto made = gestures_.pass(muted.at_s)) gesture_ = made;
        gestures_.muted(muted);
    }
}

bool PracticeRun::may_be_muted(double at_s) const { return at_s >= decided_s_ || gestures_.holds(at_s); }

void PracticeRun::follow_gestures(double now_s) {
    const auto known = std::partition(undecided_.begin(), undecided_.end(), [&](double at_s) { return at_s >= decided_s_; });
    for (auto each = known; each != undecided_.end(); ++each) gestures_.strum(*each);
    undecided_.erase(known, undecided_.end());
    if (const auto made = gestures_.pass(decided_s_ - kStrumTold_s)) gesture_ = made;
    if (gesture_) {
        const int strums = *gesture_;
        forget_gestures();
        ask_by_gesture(strums, now_s);
        return;
    }
    if (held_ && !may_be_muted(held_->verdict.onset_s)) {  // it was an answer after all
        const HeardStrum heard = *held_;
        held_.reset();
        answer(heard, now_s);
    }
    if (held_pair_ && !gestures_.begun()) {
        const PairResult result = *held_pair_;
        held_pair_.reset();
        answer_pair(result, now_s);
    }
}

void PracticeRun::ask_by_gesture(int strums, double now_s) {
    const GestureAsks asks = strums == 2 ? config_.plan.gestures.two : config_.plan.gestures.three;
    const bool paused = session_.state() == PracticeState::paused;
    if (asks == GestureAsks::nothing || (paused && asks != GestureAsks::pause)) return;
    notice_.clear();
    switch (asks) {
        case GestureAsks::again: obey(PracticeCommand::again, now_s); break;
        case GestureAsks::next: obey(PracticeCommand::next, now_s); break;
        case GestureAsks::hear: obey(PracticeCommand::hear_target, now_s); break;
        case GestureAsks::show: obey(PracticeCommand::show_grip, now_s); break;
        case GestureAsks::pause: obey(PracticeCommand::pause, now_s); break;
        case GestureAsks::nothing: break;
    }
    ask_judge();
    if (notice_.empty()) say(std::string(strums == 2 ? "Two" : "Three") + " muted strums: " + word(asks) + ".", now_s);
}

}  // namespace gripline
