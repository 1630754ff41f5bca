// The led part of practice_run.h: planned steps, prompts by ear, the session's length, breaks.
#include "base/wall_clock.h"
#include "practice/warm_up.h"
#include "ui/practice_run.h"

namespace gripline {
namespace {

constexpr double kWarmUpSlower = 2.0;   // twice the time from a right answer to the next step (judgement)

}  // namespace

std::int64_t PracticeRun::wall_ms() const { return config_.plan.wall_ms ? config_.plan.wall_ms() : wall_clock_ms(); }

void PracticeRun::begin(double now_s) {
    if (config_.plan.planned) begin_plan(now_s);
    else change(config_.course, now_s);
}

/// From all keys on the course's strings, within the pinned key and qualities where they leave enough.
Result<Exercise> PracticeRun::warm_up_pool() const {
    Pins pins;
    pins.key = config_.plan.pins.key;
    pins.qualities = config_.plan.pins.qualities;
    auto pool = make_pool(config_.course, config_.neck, config_.a4_hz, pins, Asking::shown);
    return pool ? std::move(pool) : make_pool(config_.course, config_.neck, config_.a4_hz, {}, Asking::shown);
}

/// False when the neck holds nothing to warm up on.
bool PracticeRun::begin_warm_up(double now_s) {
    const auto pool = warm_up_pool();
    if (!pool) return false;
    Exercise few = make_warm_up(*pool, config_.plan.totals, config_.plan.warm_up);
    if (few.steps.empty()) return false;
    warm_up_ = static_cast<int>(few.steps.size());
    session_.slow_down(kWarmUpSlower);
    session_.set_exercise(std::move(few), StepOrder::up, config_.seed, moment(now_s));
    ask_judge();
    return true;
}

void PracticeRun::end_warm_up() {
    if (warm_up_ == 0) return;
    warm_up_ = 0;
    warmed_up_ = session_.steps_done();
    session_.slow_down(1.0);
}

void PracticeRun::begin_plan(double now_s) {
    auto pool = config_.plan.pool ? Result<Exercise>(*config_.plan.pool) : make_pool(config_.course, config_.neck, config_.a4_hz, config_.plan.pins, config_.plan.asking);
    nothing_why_ = pool ? "" : pool.error().message;
    if (!pool) {
        session_.set_exercise({}, StepOrder::up, config_.seed, moment(now_s));
        return;
    }
    ScheduleConfig schedule;
    schedule.most_new = config_.plan.most_new;
    schedule.seed = config_.seed;
    planned_.emplace(config_.plan.totals, *pool, schedule);
    choose_next();
    why_ = next_why_;
    next_chosen_ = false;
    session_.set_exercise(std::move(pool).value(), StepOrder::up, config_.seed, moment(now_s));
    ask_judge();
}

/// The last answer is known to the model: what comes after the step asked.
void PracticeRun::choose_next() {
    if (!planned_ || next_chosen_) return;
    if (const auto next = planned_->next(wall_ms())) {
        session_.next_is(next->step);
        next_why_ = next->why;
        next_chosen_ = true;
    }
}

void PracticeRun::leave_plan() {
    planned_.reset();
    why_.clear();
}

/// A new step was asked since the last look: its reason, and its sound where it is asked by ear.
void PracticeRun::follow_asking(double now_s) {
    if (warm_up_ > 0 && session_.steps_done() >= warm_up_) {
        end_warm_up();
        begin(now_s);
    }
    if (session_.steps_done() != steps_seen_) {
        steps_seen_ = session_.steps_done();
        if (planned_) why_ = next_why_;
        next_chosen_ = false;
    }
    const PracticeStep* asked = session_.asked();
    if (asked == nullptr || session_.state() != PracticeState::listening || sounded_ == session_.askings()) return;
    sounded_ = session_.askings();
    const Asking asking = asked->asked.asking;
    if (asking == Asking::by_ear) {
        const std::pair key{asked->asked.root, asked->asked.family};
        const bool new_key = key_told_ != key;  // told once; k tells it again
        key_told_ = key;
        sound_target(now_s, PromptStyle::together, new_key);
    } else if (asking == Asking::next_step && sound_.output_trouble().empty()) {
        sound_target(now_s);
    }
}

/// Without an output the screen alone tells.
void PracticeRun::sound_answer(double now_s) {
    const bool right = session_.state() == PracticeState::right_shown;
    if (!config_.plan.tones || (!right && session_.state() != PracticeState::wrong_shown)) return;
    const auto length_s = sound_.sound_answer(right);
    if (length_s && !sound_.player_is_input()) session_.own_sound_until(moment(now_s).stream_s + *length_s);
}

void PracticeRun::watch_time(double now_s) {
    if (session_clock_.break_is_due(config_.plan, now_s)) {
        say("A break is due: let hands and ears rest some minutes. At pain stop; a teacher or a clinician knows better than a program.", now_s);
        notice_until_s_ = now_s + kBreakShown_s;
    }
    const int steps = warm_up_ > 0 ? 0 : session_.steps_done() - warmed_up_;
    if (ending_ || session_.state() != PracticeState::listening || !session_clock_.over(config_.plan, now_s, steps)) return;
    close();
    ending_ = true;
    help_ = session_is_over(summary(now_s));
    open_page(Page::help, now_s);
}

std::array<std::string, 5> PracticeRun::summary(double now_s) const { return summary_.lines(session_clock_.played_s(now_s)); }

}  // namespace gripline
