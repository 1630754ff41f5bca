#include "practice/name_it.h"

#include <algorithm>
#include <utility>

namespace gripline {

NameItSession::NameItSession(Exercise pool, std::uint32_t seed, double now_s, const NameItTimes& times)
    : pool_(std::move(pool)), times_(times), row_(pool_.steps.size(), StepOrder::shuffled, seed), asked_s_(now_s) {
    if (!row_.empty()) state_ = NameItState::asking;
}

void NameItSession::begin_with(std::size_t step, double now_s) {
    if (row_.empty()) return;
    row_.to(step);
    asked_s_ = now_s;
}

bool NameItSession::answer(std::size_t choice, double now_s) {
    constexpr double kLongestAnswer_s = 86'400.0;  // attempt_check.h
    if (state_ != NameItState::asking) return false;
    const PracticeStep& step = *asked();
    const auto choices = choices_for(step);
    if (choice >= choices.size()) return false;
    const bool right = choice == right_choice(step);
    answered_ = choice;
    NameCount& count = counts_[static_cast<std::size_t>(question_of(step))];
    ++count.of;
    if (right) ++count.right;
    Attempt attempt = step.asked;
    attempt.verdict = right ? VerdictKind::right : VerdictKind::wrong;
    attempt.confidence = right ? 1.0 : 0.0;
    attempt.answered = choices[choice].answer;
    attempt.answer_s = std::clamp(now_s - asked_s_, 0.0, kLongestAnswer_s);
    attempts_.push_back(std::move(attempt));
    state_ = right ? NameItState::right_shown : NameItState::wrong_shown;
    shown_until_s_ = now_s + (right ? times_.right_shown_s : times_.wrong_shown_s);
    return true;
}

void NameItSession::stay_until(double now_s) noexcept { shown_until_s_ = std::max(shown_until_s_, now_s); }

void NameItSession::pass(double now_s) {
    if (state_ != NameItState::asking && state_ != NameItState::nothing_to_ask && now_s >= shown_until_s_) forward(now_s);
}

void NameItSession::forward(double now_s) {
    if (row_.empty()) return;
    if (next_is_) row_.to(*next_is_);
    else row_.forward();
    next_is_.reset();
    answered_.reset();
    ++questions_;
    asked_s_ = now_s;
    state_ = NameItState::asking;
}

std::optional<Attempt> NameItSession::take_attempt() {
    if (attempts_.empty()) return std::nullopt;
    Attempt attempt = std::move(attempts_.front());
    attempts_.pop_front();
    return attempt;
}

}  // namespace gripline
