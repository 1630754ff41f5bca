#include "practice/practice_session.h"

#include <algorithm>
#include <cmath>

#include "practice/exercise_asking.h"
#include "practice/tuner.h"
#include "practice/verdict_words.h"

namespace gripline {
namespace {

constexpr int kGripShownAfter = 2;  // misses in a row (the way practice is asked to go: the second miss shows the grip)

}  // namespace

PracticeSession::PracticeSession(const PracticeTimes& times) : times_(times) {}

void PracticeSession::set_exercise(Exercise exercise, StepOrder order, std::uint32_t seed, Moment moment) {
    const bool paused = state_ == PracticeState::paused;
    exercise_ = std::move(exercise);
    row_ = StepRow(exercise_.steps.size(), order, seed);
    if (next_is_) row_.to(*next_is_);
    next_is_.reset();
    ask(moment, true);
    if (paused && !row_.empty()) state_ = PracticeState::paused;
}

void PracticeSession::ask(Moment moment, bool anew) {
    verdict_.reset();
    pair_.reset();
    wrong_in_a_row_ = 0;
    if (anew) told_grip_ = false;
    ++askings_;
    strums_from_s_ = moment.stream_s;
    attempts_.asked(anew, moment.stream_s);
    state_ = row_.empty() ? PracticeState::nothing_to_ask : PracticeState::listening;
}

void PracticeSession::forward() {
    ++steps_done_;
    if (next_is_) row_.to(*next_is_);
    else row_.forward();
    next_is_.reset();
}

bool PracticeSession::grip_shown() const {
    const PracticeStep* step = asked();
    if (step == nullptr || step->asked.asking == Asking::shown || step->asked.asking == Asking::scale_note) return true;
    return told_grip_ || state_ == PracticeState::right_shown;
}

void PracticeSession::show_grip() {
    if (grip_shown()) return;
    told_grip_ = true;
    attempts_.helped();
}

void PracticeSession::show(PracticeState state, double for_s, Moment moment) {
    state_ = state;
    shown_until_s_ = moment.now_s + for_s;
}

void PracticeSession::pass(Moment moment) {
    if (moment.now_s < shown_until_s_) return;
    if (state_ == PracticeState::right_shown) {
        forward();
        ask(moment, true);
    } else if (state_ == PracticeState::wrong_shown || state_ == PracticeState::unheard_shown) {
        state_ = PracticeState::listening;  // the judge keeps the strum it may have in hand
        attempts_.open(moment.stream_s);
    }
}

bool PracticeSession::wants(double onset_s) const noexcept {
    const bool open = state_ == PracticeState::listening || state_ == PracticeState::wrong_shown || state_ == PracticeState::unheard_shown ||
                      state_ == PracticeState::out_of_tune;
    return open && onset_s >= strums_from_s_ && onset_s >= own_sound_from_s_;
}

/// Takes the strum's tuning in. True: the guitar is too far out for this verdict to be trusted.
bool PracticeSession::refuses(const Verdict& verdict, double tuning_cents) noexcept {
    if (verdict.kind == VerdictKind::unheard) return false;
    tuning_.take(tuning_cents);
    if (tuning_.too_far_out_cents()) {
        counts_.wrong -= wrong_while_out_;
        wrong_while_out_ = 0;
        return true;
    }
    if (std::abs(tuning_cents) <= kTooFarOut_cents) wrong_while_out_ = 0;
    else if (verdict.kind == VerdictKind::wrong) ++wrong_while_out_;
    return false;
}

std::optional<double> PracticeSession::out_of_tune_cents() const noexcept {
    return state_ == PracticeState::out_of_tune ? tuning_.too_far_out_cents() : std::nullopt;
}

/// The guitar is too far out of tune for what was heard to count.
void PracticeSession::refuse() {
    verdict_.reset();
    pair_.reset();
    wrong_in_a_row_ = 0;
    attempts_.take_back();
    state_ = PracticeState::out_of_tune;
}

void PracticeSession::show_verdict(VerdictKind kind, long faults_told, Moment moment) {
    switch (kind) {
        case VerdictKind::right:
            ++counts_.right;
            wrong_in_a_row_ = 0;
            show(PracticeState::right_shown, times_.right_shown_s * slower_, moment);
            break;
        case VerdictKind::wrong: {
            ++counts_.wrong;
            if (++wrong_in_a_row_ >= kGripShownAfter && !grip_shown()) {
                told_grip_ = true;
                attempts_.helped();
            }
            const auto further = std::clamp(faults_told - 1, 0L, 2L);
            show(PracticeState::wrong_shown, times_.wrong_shown_s + static_cast<double>(further) * times_.further_fault_s, moment);
            break;
        }
        case VerdictKind::unheard:
            ++counts_.unheard;
            show(PracticeState::unheard_shown, times_.unheard_shown_s, moment);
            break;
    }
}

void PracticeSession::hear(const Verdict& verdict, Moment moment, std::optional<double> strum_tuning_cents) {
    if (!wants(verdict.onset_s)) return;
    strums_from_s_ = std::max(verdict.decided_s, verdict.onset_s) + times_.ring_s;
    if (refuses(verdict, strum_tuning_cents.value_or(verdict.tuning_cents))) return refuse();
    if (wrong_while_out_ == 0) attempts_.stand();
    attempts_.heard(*asked(), verdict, wrong_while_out_ > 0 && verdict.kind == VerdictKind::wrong);
    verdict_ = verdict;
    const auto is_told = [](const Fault& fault) { return fault.probability >= kFaultToldFrom; };
    show_verdict(verdict.kind, std::count_if(verdict.faults.begin(), verdict.faults.end(), is_told), moment);
}

void PracticeSession::hear_pair(const PairResult& pair, Moment moment) {
    const bool open = state_ == PracticeState::listening || state_ == PracticeState::out_of_tune;
    if (!open || given_for(*asked()) == nullptr) return;
    const int wrong_before = wrong_while_out_;
    const bool approach_refused = refuses(pair.approach.verdict, pair.approach.verdict.tuning_cents);
    if (refuses(pair.target.verdict, pair.target.verdict.tuning_cents) || approach_refused) return refuse();
    wrong_while_out_ = std::min(wrong_while_out_, wrong_before + 1);  // both together count once
    const VerdictKind kind = kind_of(pair);
    if (wrong_while_out_ == 0) attempts_.stand();
    attempts_.heard_pair(*asked(), pair, wrong_while_out_ > 0 && kind == VerdictKind::wrong);
    pair_ = pair;
    verdict_ = verdict_in_time(pair.approach, pair.tempo_bpm).kind == VerdictKind::wrong ? pair.approach.verdict : pair.target.verdict;
    show_verdict(kind, 2, moment);  // two strums are told of
}

void PracticeSession::repeat(Moment moment) {
    if (!row_.empty()) ask(moment);
}

void PracticeSession::skip(Moment moment) {
    forward();
    if (!row_.empty()) ask(moment, true);
}

void PracticeSession::back(Moment moment) {
    row_.back();
    if (!row_.empty()) ask(moment, true);
}

void PracticeSession::pause(Moment moment) {
    if (row_.empty()) return;
    if (state_ == PracticeState::paused) {
        ask(moment);
    } else {
        verdict_.reset();
        state_ = PracticeState::paused;
    }
}

void PracticeSession::own_sound_until(double stream_s) noexcept {
    own_sound_from_s_ = std::max(own_sound_from_s_, stream_s + times_.own_sound_tail_s);
}

void PracticeSession::new_stream(Moment moment) {
    own_sound_from_s_ = 0.0;
    tuning_.forget();
    wrong_while_out_ = 0;
    attempts_.stand();
    if (state_ == PracticeState::paused) strums_from_s_ = moment.stream_s;
    else repeat(moment);
}

const PracticeStep* PracticeSession::asked() const { return row_.empty() ? nullptr : &exercise_.steps[row_.step()]; }

const PracticeStep* PracticeSession::next() const { return row_.empty() ? nullptr : &exercise_.steps[next_is_.value_or(row_.next_step())]; }

}  // namespace gripline
