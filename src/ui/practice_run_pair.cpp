// Approach and target in time, as a part of practice_run.h: when it counts in, what becomes of it.
#include <algorithm>
#include <cmath>

#include "chart/chart.h"
#include "practice/exercise_asking.h"
#include "ui/practice_run.h"

namespace gripline {
namespace {

constexpr double kDelayTold_s = 12.0;  // two count-ins at the usual tempo

}  // namespace

/// True when another count is heard, or something was judged.
bool PracticeRun::play_pair(double now_s) {
    const PracticeStep* asked = session_.asked();
    const bool open = session_.state() == PracticeState::listening || session_.state() == PracticeState::out_of_tune;
    const bool wanted = asked != nullptr && asked->asked.asking == Asking::into_target && given_for(*asked) != nullptr && open && page_ == Page::practice &&
                        now_s >= own_sound_until_s_ && sound_.input().source == SourceState::running;
    if (!wanted) {
        pair_play_.end();
        return false;
    }
    if (held_pair_) return false;
    if (!pair_play_.runs() || pair_asking_ != session_.askings()) {
        pair_asking_ = session_.askings();
        pair_play_.begin(*asked, config_.plan.tempo_bpm);
        if (!delay_told_ && !pair_play_.silent() && !sound_.delay_known()) {
            delay_told_ = true;
            say("The delay of these devices is not measured: early and late are not to be trusted. gripline calibrate measures it.", now_s);
            notice_until_s_ = now_s + kDelayTold_s;
        }
    }
    if (const auto result = pair_play_.listen()) {
        if (kind_of(*result) != VerdictKind::right && gestures_.begun()) held_pair_ = result;
        else answer_pair(*result, now_s);
    }
    const auto count = pair_play_.count();
    const bool another = count != pair_count_;
    pair_count_ = count;
    return another;
}

void PracticeRun::answer_pair(const PairResult& result, double now_s) {
    session_.hear_pair(result, moment(now_s));
    keep_attempts();
    if (session_.state() == PracticeState::right_shown) choose_next();
    sound_answer(now_s);
}

/// Counts in anew at the tempo.
void PracticeRun::change_tempo(double by_bpm, double now_s) {
    const PracticeStep* asked = session_.asked();
    if (asked == nullptr || asked->asked.asking != Asking::into_target) {
        say("A tempo counts only into the target (--exercise into-the-target) and in gripline walk.", now_s);
        return;
    }
    double& tempo_bpm = config_.plan.tempo_bpm;
    tempo_bpm = std::clamp(tempo_bpm + by_bpm, kLeastTempo_bpm, kMostTempo_bpm);
    pair_play_.end();
    say("Tempo " + std::to_string(std::lround(tempo_bpm)) + " counts a minute.", now_s);
}

}  // namespace gripline
