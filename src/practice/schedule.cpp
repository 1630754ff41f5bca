#include "practice/schedule.h"

#include <algorithm>
#include <cmath>

namespace gripline {

namespace {

constexpr double kDay_ms = 86'400'000.0;
constexpr long kRightAgain = 1;  // right answers in a row after which a missed skill takes its place among the others again: the model knows that it slips
constexpr double kLongest_passes = 5.0;  // an unasked skill waits no longer than that
constexpr double kDueAfter_days = 7.0;  // a week without, however sure it was (common practice, no source)
constexpr double kSameDay_days = 0.5;  // within a day nothing is due, only weak

std::string per_cent(double rate) { return std::to_string(std::lround(100.0 * rate)) + " %"; }

std::string ago(double days) {
    if (days < 1.0) return "earlier today";
    const long whole = std::lround(days);
    return whole <= 1 ? "a day ago" : std::to_string(whole) + " days ago";
}

}  // namespace

std::string_view word(AskReason reason) noexcept {
    switch (reason) {
        case AskReason::fresh: return "new";
        case AskReason::missed: return "missed";
        case AskReason::weak: return "weak";
        case AskReason::due: return "due";
        case AskReason::check: return "check";
    }
    return "";
}

bool called_weak(const LearnerModel& model, std::size_t number) {
    return model.count(number).attempts >= kLeastAnswersToCallWeak && model.belief(number, model.last_ms(number)).surely_below(kWeakRecall) >= kWeakSurety;
}

Scheduler::Scheduler(const LearnerModel& model, std::vector<std::size_t> pool, const ScheduleConfig& config)
    : model_(model), pool_(std::move(pool)), config_(config), random_(config.seed) {}

bool Scheduler::too_soon(std::size_t number, int apart) const {
    for (int i = 0; i < apart && i < static_cast<int>(lately_.size()); ++i)
        if (lately_[static_cast<std::size_t>(i)] == number) return true;
    return false;
}

/// So many others come between two askings of a skill now.
int Scheduler::apart(std::int64_t at_ms) const {
    int need = 0;
    for (const std::size_t number : pool_) need += model_.count(number).attempts == 0 || model_.belief(number, at_ms).surely_below(config_.target) >= config_.needs_it;
    return std::min(std::clamp(need - 1, 1, std::max(1, config_.apart)), static_cast<int>(pool_.size()) - 1);
}

struct Scheduler::Best {
    std::optional<std::size_t> skill;
    double worth = -1.0;
    int equals = 0;
    void offer(std::size_t number, double offered, std::minstd_rand& random) {
        if (offered < worth) return;
        equals = offered > worth ? 1 : equals + 1;
        if (equals > 1 && std::uniform_int_distribution<int>(1, equals)(random) != 1) return;
        worth = offered;
        skill = number;
    }
};

std::optional<Chosen> Scheduler::next(std::int64_t at_ms) {
    if (pool_.empty()) return std::nullopt;
    const auto passes = [this](std::size_t number) {
        const auto at = last_turn_.find(number);
        const double turns = at == last_turn_.end() ? kLongest_passes * static_cast<double>(pool_.size()) : static_cast<double>(turn_ - at->second);
        return std::min(kLongest_passes, turns / static_cast<double>(pool_.size()));
    };
    Best fresh, known, missed;
    int in_hand = 0;
    const auto offer_all = [&](int apart) {
        in_hand = 0;
        for (const std::size_t number : pool_) {
            const RateCount& count = model_.count(number);
            if (count.attempts > 0 && count.right == 0) ++in_hand;
            if (too_soon(number, apart)) continue;
            const double doubt = model_.belief(number, at_ms).surely_below(config_.target);
            if (count.attempts == 0) fresh.offer(number, doubt, random_);
            else known.offer(number, doubt + config_.waiting * passes(number), random_);
            if (count.attempts > count.right && model_.right_in_a_row(number) < kRightAgain) missed.offer(number, passes(number), random_);
        }
    };
    const int between = apart(at_ms);
    offer_all(between);
    const bool room = fresh.skill && in_hand < config_.most_new;
    new_owed_ = std::min(2.0, new_owed_ + config_.new_share);
    const bool take_new = room && (!missed.skill || new_owed_ >= 1.0);
    if (take_new) new_owed_ = std::max(0.0, new_owed_ - 1.0);
    else if (room) known.skill = missed.skill;
    // So few are in hand that all of them were asked just now: sooner again, rather than more new ones.
    for (int fewer = between - 1; !take_new && !known.skill && in_hand > 0 && fewer > 0; --fewer) offer_all(fewer);
    Chosen out;
    out.skill = take_new || !known.skill ? *fresh.skill : *known.skill;
    const RateCount& count = model_.count(out.skill);
    const double days = static_cast<double>(at_ms - model_.last_ms(out.skill)) / kDay_ms;
    const double recall = model_.belief(out.skill, at_ms).recall();
    if (count.attempts == 0) out.reason = AskReason::fresh;
    else if ((days >= kDueAfter_days || (days > kSameDay_days && recall < config_.target)) && model_.right_in_a_row(out.skill) > 0) out.reason = AskReason::due;
    else if (called_weak(model_, out.skill)) out.reason = AskReason::weak;
    else out.reason = count.attempts > count.right && model_.right_in_a_row(out.skill) < kRightAgain ? AskReason::missed : AskReason::check;
    out.why = why(out, at_ms);
    last_turn_[out.skill] = turn_++;
    lately_.push_front(out.skill);
    if (lately_.size() > static_cast<std::size_t>(std::max(1, config_.apart))) lately_.pop_back();
    return out;
}

std::string Scheduler::why(const Chosen& chosen, std::int64_t at_ms) const {
    const RateCount& count = model_.count(chosen.skill);
    const double recall = model_.belief(chosen.skill, at_ms).recall();
    const std::string so_far = std::to_string(count.right) + " of " + std::to_string(count.attempts) + " right so far";
    switch (chosen.reason) {
        case AskReason::fresh: return "new: not asked before; by what is like it, about " + per_cent(recall) + " likely to be right";
        case AskReason::missed: return "missed lately: " + so_far;
        case AskReason::weak: return "weak: " + so_far;
        case AskReason::due: return "due: last asked " + ago(static_cast<double>(at_ms - model_.last_ms(chosen.skill)) / kDay_ms) + "; about " + per_cent(recall) + " likely to be right by now";
        case AskReason::check: return "to be sure: " + so_far + ", about " + per_cent(recall) + " likely to be right";
    }
    return "";
}

}  // namespace gripline
