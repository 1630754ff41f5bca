#include "practice/quiz_runner.h"

#include <algorithm>
#include <utility>

namespace gripline {

QuizRunner::QuizRunner(Quiz quiz, std::vector<QuizQuestion> questions, QuizProgress so_far, const QuizPace& pace)
    : quiz_(std::move(quiz)), questions_(std::move(questions)), progress_(std::move(so_far)), pace_(pace) {
    for (QuizTry& before : progress_.tries) before.sound_at_s = kNotInSound;
    if (progress_.answers.size() >= questions_.size()) end(QuizEnding::finished);
    if (state_ == QuizState::over || progress_.tries.empty()) return;
    const bool right = progress_.tries.back().verdict == VerdictKind::right;  // killed between the strum and its answer
    if (!right && misses() < quiz_.tries) return;
    finish_question(right ? QuizOutcome::right : QuizOutcome::wrong, {});
    state_ = QuizState::ready;
    if (progress_.answers.size() == questions_.size()) end(QuizEnding::finished);
}

const QuizQuestion* QuizRunner::question() const noexcept { return place() < questions_.size() ? &questions_[place()] : nullptr; }

void QuizRunner::start(Moment moment) {
    if (state_ == QuizState::ready) count_down(moment);
}

void QuizRunner::count_down(Moment moment) {
    state_ = QuizState::counting_down;
    shown_until_s_ = moment.now_s + pace_.countdown_s;
}

void QuizRunner::ask(Moment moment) {
    const QuizQuestion& asked = questions_[place()];
    ++askings_;
    asked_place_ = place();
    clock_s_ = moment.now_s;
    closed_s_.reset();
    asked_stream_s_ = strums_from_s_ = moment.stream_s;
    asked_used_s_ = progress_.question_used_s;
    state_ = asked.beat ? QuizState::walking : QuizState::asking;
    if (asked.beat) asked_stream_s_ += pace_.count_in * asked.beat->count_s;
    sound_from_s_ = asked_stream_s_;
    for (QuizTry& before : progress_.tries) before.sound_at_s = kNotInSound;  // the sound begins anew
}

void QuizRunner::lay_first_beat(double stream_s) noexcept {
    if (state_ == QuizState::walking) asked_stream_s_ = stream_s;
}

double QuizRunner::sound_from_s(std::size_t answer) const {
    const auto& beat = questions_[answer].beat;
    const auto& first = questions_[asked_place_].beat;
    if (!beat || !first) return sound_from_s_;
    return asked_stream_s_ + beat->at_s - first->at_s - beat->count_s / 2.0;
}

void QuizRunner::sounding(double for_s, Moment moment, bool again) {
    if (state_ != QuizState::asking) return;
    run_clock(moment);
    strums_from_s_ = moment.stream_s + for_s + pace_.own_sound_tail_s;
    if (again) return;
    clock_s_ = moment.now_s + for_s;
    asked_stream_s_ = moment.stream_s + for_s;
    asked_used_s_ = progress_.question_used_s;
}

void QuizRunner::run_clock(Moment moment) {
    const double gone_s = moment.now_s - clock_s_;
    if (!clock_runs() || gone_s <= 0.0) return;
    clock_s_ = moment.now_s;
    progress_.question_used_s += gone_s;
    progress_.used_s += gone_s;
}

/// The time of a question or of the quiz is over: what was strummed before still gets its verdict.
void QuizRunner::close_when_over(Moment moment) {
    double over_s = quiz_.time_s > 0.0 ? progress_.used_s - quiz_.time_s : -1.0;
    if (state_ == QuizState::asking) over_s = std::max(over_s, progress_.question_used_s - quiz_.question_time_s);
    if (over_s < 0.0) return;
    if (!closed_s_) {
        closed_s_ = moment.stream_s - over_s;
        closed_until_s_ = moment.now_s - over_s + pace_.verdict_wait_s;
    }
    if (moment.now_s < closed_until_s_) return;
    const bool heard_wrong = misses() > 0;
    finish_question(heard_wrong ? QuizOutcome::wrong : QuizOutcome::unheard, moment);
}

void QuizRunner::pass(Moment moment) {
    last_stream_s_ = moment.stream_s;
    run_clock(moment);
    if (clock_runs()) {
        close_when_over(moment);
    } else if (state_ == QuizState::counting_down && moment.now_s >= shown_until_s_) {
        ask(moment);
    } else if (state_ == QuizState::answer_shown && moment.now_s >= shown_until_s_) {
        next(moment);
    }
}

bool QuizRunner::wants(double onset_s) const noexcept {
    return state_ == QuizState::asking && onset_s >= strums_from_s_ && (!closed_s_ || onset_s < *closed_s_);
}

namespace {

QuizTry try_of(const Verdict& verdict, double answer_s) {
    QuizTry out;
    out.verdict = verdict.kind;
    out.confidence = verdict.confidence;
    out.answer_s = answer_s;
    out.level_db = verdict.level_db;
    out.tuning_cents = verdict.tuning_cents;
    out.heard = verdict.heard;
    out.faults = verdict.faults;
    return out;
}

}  // namespace

void QuizRunner::hear(const Verdict& verdict, Moment moment) {
    if (!wants(verdict.onset_s)) return;
    run_clock(moment);
    QuizTry one = try_of(verdict, asked_used_s_ + verdict.onset_s - asked_stream_s_);
    one.sound_at_s = verdict.onset_s - asked_stream_s_;
    progress_.tries.push_back(std::move(one));
    strums_from_s_ = std::max(verdict.decided_s, verdict.onset_s) + pace_.ring_s;
    if (verdict.kind == VerdictKind::right) finish_question(QuizOutcome::right, moment);
    else if (misses() >= quiz_.tries) finish_question(QuizOutcome::wrong, moment);
}

void QuizRunner::hear_beat(const BeatResult& beat, Moment moment) {
    if (state_ != QuizState::walking) return;
    run_clock(moment);
    if (beat.any_strum) {
        progress_.tries.push_back(try_of(beat.verdict, beat.off_ms.value_or(0.0) / 1000.0));
        progress_.tries.back().sound_at_s = std::max(0.0, beat.verdict.onset_s - sound_from_s(place()));
    }
    const VerdictKind kind = beat.verdict.kind;
    const int part = questions_[place()].part;
    finish_question(kind == VerdictKind::right ? QuizOutcome::right : kind == VerdictKind::wrong ? QuizOutcome::wrong : QuizOutcome::unheard, moment);
    if (state_ != QuizState::answer_shown) return;
    const std::size_t following = progress_.answers.size();
    if (following < questions_.size() && questions_[following].part == part) state_ = QuizState::walking;  // the line goes on
}

void QuizRunner::finish_question(QuizOutcome outcome, Moment moment) {
    const QuizQuestion& asked = questions_[place()];
    QuizAnswer answer;
    answer.question = asked;
    answer.outcome = outcome;
    answer.used_s = asked.beat ? progress_.question_used_s : std::min(progress_.question_used_s, quiz_.question_time_s);
    answer.tries = std::move(progress_.tries);
    const double left_out_s = asked.beat ? 0.0 : std::max(0.0, std::max(moment.stream_s, last_stream_s_) - pace_.sound_kept_s - asked_stream_s_);
    sound_from_s_ = asked_stream_s_ + left_out_s;
    for (QuizTry& one : answer.tries)
        if (one.sound_at_s != kNotInSound) one.sound_at_s = one.sound_at_s < left_out_s ? kNotInSound : one.sound_at_s - left_out_s;
    progress_.answers.push_back(std::move(answer));
    progress_.tries.clear();
    progress_.question_used_s = 0.0;
    state_ = QuizState::answer_shown;
    const bool missed = outcome != QuizOutcome::right && quiz_.show_after_miss;
    shown_until_s_ = moment.now_s + (missed ? pace_.miss_shown_s : pace_.answer_shown_s);
}

void QuizRunner::next(Moment moment) {
    if (progress_.answers.size() == questions_.size()) return end(QuizEnding::finished);
    if (quiz_.time_s > 0.0 && progress_.used_s >= quiz_.time_s) return end(QuizEnding::time_over);
    state_ = QuizState::ready;  // place() looks at the next question from here on
    ask(moment);
}

void QuizRunner::end(QuizEnding ending) {
    if (!progress_.tries.empty() && progress_.answers.size() < questions_.size()) finish_question(QuizOutcome::wrong, {});
    state_ = QuizState::over;
    ending_ = ending;
}

void QuizRunner::hand_in() {
    if (state_ == QuizState::over) return;
    end(progress_.answers.size() == questions_.size() ? QuizEnding::finished : QuizEnding::handed_in);
}

void QuizRunner::set_input(bool there, Moment moment) {
    if (state_ == QuizState::over || state_ == QuizState::ready || state_ == QuizState::paused) return;
    if (!there && state_ != QuizState::input_lost) {
        run_clock(moment);
        if (state_ == QuizState::answer_shown) next(moment);
        if (state_ == QuizState::over) return;
        state_ = QuizState::input_lost;
    } else if (there && state_ == QuizState::input_lost) {
        count_down(moment);
    }
}

bool QuizRunner::pause(Moment moment) {
    if (!quiz_.may_pause || state_ == QuizState::over || state_ == QuizState::ready || state_ == QuizState::input_lost) return false;
    if (state_ == QuizState::paused) {
        count_down(moment);
        return true;
    }
    run_clock(moment);
    if (state_ == QuizState::answer_shown) next(moment);
    if (state_ == QuizState::over) return false;
    state_ = QuizState::paused;
    return true;
}

double QuizRunner::question_left_s() const noexcept { return std::max(0.0, quiz_.question_time_s - progress_.question_used_s); }

std::optional<double> QuizRunner::quiz_left_s() const noexcept {
    if (quiz_.time_s <= 0.0) return std::nullopt;
    return std::max(0.0, quiz_.time_s - progress_.used_s);
}

double QuizRunner::shown_left_s(Moment moment) const noexcept { return std::max(0.0, shown_until_s_ - moment.now_s); }

int QuizRunner::misses() const noexcept {
    return static_cast<int>(std::count_if(progress_.tries.begin(), progress_.tries.end(), [](const QuizTry& one) { return one.verdict == VerdictKind::wrong; }));
}

std::vector<WalkBeat> QuizRunner::walk_beats() const {
    std::vector<WalkBeat> out;
    const QuizQuestion& first = questions_[place()];
    if (!first.beat) return out;
    for (std::size_t i = place(); i < questions_.size() && questions_[i].part == first.part && questions_[i].beat; ++i) {
        const QuizBeat& beat = *questions_[i].beat;
        out.push_back({beat.bar, beat.beat, 0, questions_[i].step.chord, asked_stream_s_ + beat.at_s - first.beat->at_s, questions_[i].step.target()});
        out.back().share = beat.count_s / first.beat->count_s;
    }
    return out;
}

}  // namespace gripline
