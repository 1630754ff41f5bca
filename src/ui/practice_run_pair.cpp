// Approach and target in time, as a part of practice_run.h: when it counts in, what becomes of it.
#include <algorithm>
#include <cmath>

#include "chart/chart.h"
#include "practice/exercise_asking.h"
#include "ui/practice_run.h"

namespace gripline {

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
    if (!pair_play_.runs() || pair_asking_ != session_.askings()) {
        pair_asking_ = session_.askings();
        pair_play_.begin(*asked, config_.plan.tempo_bpm);
    }
    if (const auto result = pair_play_.listen()) {
        session_.hear_pair(*result, moment(now_s));
        keep_attempts();
        if (session_.state() == PracticeState::right_shown) choose_next();
        sound_answer(now_s);
    }
    const auto count = pair_play_.count();
    const bool another = count != pair_count_;
    pair_count_ = count;
    return another;
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
