#include "practice/learner.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace gripline {

namespace {

constexpr double kDay_ms = 86'400'000.0;

double normal_share(double z) { return 0.5 * std::erfc(-z / std::numbers::sqrt2); }
double normal_density(double z) { return std::exp(-0.5 * z * z) / std::sqrt(2.0 * std::numbers::pi); }

/// Inverse of normal_share by Newton's method: few values are ever asked.
double normal_quantile(double share) {
    double z = 0.0;
    for (int i = 0; i < 60; ++i) {
        const double step = (normal_share(z) - share) / std::max(normal_density(z), 1e-12);
        z -= std::clamp(step, -1.0, 1.0);
        if (std::abs(step) < 1e-12) break;
    }
    return z;
}

/// Mean of a normal variable beyond -t, above its mean, and how much the variance shrinks (Graepel et al. 2010, section 3).
double surprise(double t) { return t < -30.0 ? -t : normal_density(t) / normal_share(t); }
double shrinking(double t) {
    const double v = surprise(t);
    return std::clamp(v * (v + t), 0.0, 1.0);
}

}  // namespace

double RecallBelief::recall() const noexcept { return normal_share(mean / std::sqrt(1.0 + variance)); }

double RecallBelief::surely_below(double rate) const noexcept {
    // The same few rates are asked again and again.
    thread_local double known_rate = 0.5, known_quantile = 0.0;
    if (rate != known_rate) {
        known_rate = rate;
        known_quantile = normal_quantile(std::clamp(rate, 1e-6, 1.0 - 1e-6));
    }
    return normal_share((known_quantile - mean) / std::sqrt(std::max(variance, 1e-12)));
}

LearnerModel::LearnerModel(const LearnerConfig& config) : config_(config) {
    parts_.push_back({config.start, config.start_doubt * config.start_doubt});
    const double gain_variance = config.gain_doubt * config.gain_doubt;
    right_gain_ = {config.right_gain, gain_variance};
    wrong_gain_ = {config.wrong_gain, gain_variance};
    recency_ = {config.recency, config.recency_doubt * config.recency_doubt};
    forgetting_ = {config.forgetting, config.forgetting_doubt * config.forgetting_doubt};
    slipping_ = {config.slipping, config.slipping_doubt * config.slipping_doubt};
}

std::size_t LearnerModel::part(const std::string& name, double doubt) {
    const auto [at, is_new] = part_numbers_.try_emplace(name, parts_.size());
    if (is_new) parts_.push_back({0.0, doubt * doubt});
    return at->second;
}

std::size_t LearnerModel::number(const Skill& skill) {
    const auto [at, is_new] = numbers_.try_emplace(skill, states_.size());
    if (!is_new) return at->second;
    SkillState state;
    state.skill = skill;
    const double doubt = config_.factor_doubt;
    const std::string key = plain_name(skill.key);
    state.shared = {0,
                    part("quality " + skill.quality, doubt),
                    part("role " + std::string(word(skill.role)) + (skill.from ? " " + std::string(word(*skill.from)) : ""), doubt),
                    part("key " + key, doubt),
                    part("strings " + skill.strings, doubt),
                    part("asking " + std::string(word(skill.asking)), doubt),
                    part("chord " + key + skill.quality, config_.chord_doubt)};
    state.own = {0.0, config_.own_doubt * config_.own_doubt};
    states_.push_back(std::move(state));
    return states_.size() - 1;
}

LearnerModel::Practice LearnerModel::practice(const SkillState& state, std::int64_t at_ms) const {
    Practice out;
    out.own_variance = state.own.variance;
    if (state.count.attempts == 0) return out;
    const double days = std::max(0.0, static_cast<double>(at_ms - state.last_ms) / kDay_ms);
    out.right = std::log1p(static_cast<double>(state.count.right));
    out.wrong = std::log1p(static_cast<double>(state.count.attempts - state.count.right));
    out.recent = state.recent;
    const double gone = std::log1p(days * 1440.0);
    out.forgotten = -gone / (1.0 + config_.slower * out.right);
    out.slipped = -std::min(gone, std::log1p(config_.slipping_until_min)) * out.wrong / (1.0 + config_.slipping_slower * out.right);
    const double most = config_.own_doubt * config_.own_doubt;
    out.own_variance = std::max(state.own.variance, std::min(most, state.own.variance + days * config_.day_drift * config_.day_drift));
    return out;
}

RecallBelief LearnerModel::sum(const SkillState& state, const Practice& practice) const {
    RecallBelief out{state.own.mean, practice.own_variance};
    for (const std::size_t shared : state.shared) {
        out.mean += parts_[shared].mean;
        out.variance += parts_[shared].variance;
    }
    out.mean += practice.right * right_gain_.mean + practice.wrong * wrong_gain_.mean + practice.forgotten * forgetting_.mean + practice.slipped * slipping_.mean +
                practice.recent * recency_.mean;
    out.variance += practice.right * practice.right * right_gain_.variance + practice.wrong * practice.wrong * wrong_gain_.variance +
                    practice.forgotten * practice.forgotten * forgetting_.variance + practice.slipped * practice.slipped * slipping_.variance +
                    practice.recent * practice.recent * recency_.variance;
    return out;
}

RecallBelief LearnerModel::belief(std::size_t number, std::int64_t at_ms) const {
    const SkillState& state = states_[number];
    return sum(state, practice(state, at_ms));
}

void LearnerModel::answer(std::size_t number, bool right, std::int64_t at_ms) {
    SkillState& state = states_[number];
    const Practice now = practice(state, at_ms);
    const RecallBelief before = sum(state, now);
    const double side = right ? 1.0 : -1.0, whole = std::sqrt(1.0 + before.variance), t = side * before.mean / whole;
    const double push = side * surprise(t) / whole, shrink = shrinking(t) / (whole * whole);
    const auto move = [&](Part& part, double times) {
        part.mean += times * part.variance * push;
        part.variance *= std::max(1e-6, 1.0 - times * times * part.variance * shrink);
    };
    for (const std::size_t shared : state.shared) move(parts_[shared], 1.0);
    move(right_gain_, now.right);
    move(wrong_gain_, now.wrong);
    move(forgetting_, now.forgotten);
    move(slipping_, now.slipped);
    move(recency_, now.recent);
    state.recent = config_.recency_fade * state.recent + (1.0 - config_.recency_fade) * side;
    state.own.variance = now.own_variance;
    move(state.own, 1.0);
    state.own.variance += config_.practice_drift * config_.practice_drift;
    ++state.count.attempts;
    state.count.right += right ? 1 : 0;
    state.in_a_row = right ? state.in_a_row + 1 : 0;
    state.last_ms = std::max(state.last_ms, at_ms);
}

void LearnerModel::recall_totals(std::size_t number, const RateCount& count, std::int64_t last_ms) {
    if (count.attempts <= 0) return;
    const long told = std::min(count.attempts, kMostOld);
    const double rate = count.rate();
    // Right and wrong evenly through the row, so that no order is made up.
    double owed = 0.0;
    for (long i = 0; i < told; ++i) {
        owed += rate;
        const bool right = owed >= 0.5;
        if (right) owed -= 1.0;
        answer(number, right, last_ms);
    }
    SkillState& state = states_[number];
    state.count.attempts += count.attempts - told;
    state.count.right = std::clamp(state.count.right + count.right - std::lround(rate * static_cast<double>(told)), 0L, state.count.attempts);
}

}  // namespace gripline
