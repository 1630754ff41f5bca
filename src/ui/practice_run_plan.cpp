// The led part of practice_run.h: planned steps, prompts by ear, the session's length, breaks.
#include "base/wall_clock.h"
#include "ui/practice_run.h"

namespace gripline {
namespace {

constexpr double kBreakShown_s = 30.0;  // long enough to be seen at the next look (judgement)

}  // namespace

std::int64_t PracticeRun::wall_ms() const { return config_.plan.wall_ms ? config_.plan.wall_ms() : wall_clock_ms(); }

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
    const PracticePlan& plan = config_.plan;
    if (plan.break_after_min > 0.0 && now_s - break_from_s_ >= plan.break_after_min * 60.0) {
        break_from_s_ = now_s;
        say("A break is due: let hands and ears rest some minutes. At pain stop; a teacher or a clinician knows better than a program.", now_s);
        notice_until_s_ = now_s + kBreakShown_s;
    }
    if (ending_ || session_.state() != PracticeState::listening) return;
    const bool time_up = plan.minutes > 0.0 && now_s - began_s_ >= plan.minutes * 60.0;
    if (!time_up && !(plan.steps > 0 && session_.steps_done() >= plan.steps)) return;
    close();
    ending_ = true;
    help_ = HelpView{};
    help_.title = "The session is over";
    for (const std::string& line : summary(now_s)) help_.paragraphs.push_back(line);
    help_.leads_to = "the end";
    open_page(Page::help, now_s);
}

std::array<std::string, 5> PracticeRun::summary(double now_s) const { return summary_.lines(now_s - began_s_); }

}  // namespace gripline
