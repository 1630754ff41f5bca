#include "support/simulated_learner.h"

#include <algorithm>
#include <cmath>

namespace gripline::test {

namespace {

double uniform(std::mt19937& random, double low, double high) { return std::uniform_real_distribution<double>(low, high)(random); }
double normal(std::mt19937& random, double mean, double deviation) { return std::normal_distribution<double>(mean, deviation)(random); }
double log_uniform(std::mt19937& random, double low, double high) { return std::exp(uniform(random, std::log(low), std::log(high))); }
double logistic(double x) { return 1.0 / (1.0 + std::exp(-x)); }
double logit(double p) { return std::log(p / (1.0 - p)); }

// From memory of Pavlik & Anderson 2005, table of estimates: decay a = 0.177, c = 0.217, h = 0.025, s = 0.255, tau = -0.704.
constexpr double kTau = -0.704, kS = 0.255, kC = 0.217, kH = 0.025, kA = 0.177;
constexpr double kNight_s = 4.0 * 3600.0;  // a longer break is no practice time: it runs h times as fast

class ActivationLearner final : public SimulatedLearner {
public:
    ActivationLearner(const StartingPoint& start, std::mt19937& random) : random_(random()), traces_(start.recall.size()), ease_(start.recall.size()) {
        decay_ = kA * log_uniform(random, 0.5, 1.4);
        const double ease = uniform(random, 0.6, 1.4);
        for (std::size_t cell = 0; cell < traces_.size(); ++cell) {
            const bool planted = std::find(start.planted.begin(), start.planted.end(), cell) != start.planted.end();
            ease_[cell] = ease + (planted ? -uniform(random, 0.8, 1.4) : normal(random, 0.0, 0.2));
            // All earlier practice as one trace, as strong as it takes, some weeks old.
            const double age_s = kH * 86400.0 * uniform(random, 5.0, 60.0), wanted = kTau + kS * logit(std::max(1e-4, start.recall[cell])) - ease_[cell];
            traces_[cell].push_back({-age_s, decay_, std::exp(wanted + decay_ * std::log(age_s))});
        }
    }
    std::size_t cells() const override { return traces_.size(); }
    double recall(std::size_t cell, double now_s) const override { return logistic((activation(cell, felt_s(now_s)) - kTau) / kS); }
    bool answer(std::size_t cell, double now_s) override {
        if (now_s - last_s_ > kNight_s) felt_at_last_s_ += kH * (now_s - last_s_);
        else felt_at_last_s_ += now_s - last_s_;
        last_s_ = now_s;
        const double now = activation(cell, felt_at_last_s_);
        const bool right = uniform(random_, 0.0, 1.0) < logistic((now - kTau) / kS);
        traces_[cell].push_back({felt_at_last_s_, kC * std::exp(now) + decay_, 1.0});
        return right;
    }

private:
    struct Trace {
        double at_s, decay, strength;
    };
    double felt_s(double now_s) const { return felt_at_last_s_ + (now_s - last_s_) * (now_s - last_s_ > kNight_s ? kH : 1.0); }
    double activation(std::size_t cell, double felt_now_s) const {
        double sum = 0.0;
        for (const Trace& trace : traces_[cell]) sum += trace.strength * std::pow(std::max(1.0, felt_now_s - trace.at_s), -trace.decay);
        return ease_[cell] + std::log(sum);
    }
    std::mt19937 random_;
    std::vector<std::vector<Trace>> traces_;
    std::vector<double> ease_;
    double decay_ = kA, last_s_ = 0.0, felt_at_last_s_ = 0.0;
};

class TracingLearner final : public SimulatedLearner {
public:
    TracingLearner(const StartingPoint& start, std::mt19937& random) : random_(random()) {
        slip_ = uniform(random, 0.01, 0.08);
        guess_ = uniform(random, 0.0, 0.02);
        forget_a_day_ = log_uniform(random, 0.0002, 0.004);
        const double learn = logit(log_uniform(random, 0.12, 0.6));
        for (std::size_t cell = 0; cell < start.recall.size(); ++cell) {
            const bool planted = std::find(start.planted.begin(), start.planted.end(), cell) != start.planted.end();
            known_.push_back(!planted && (start.others_known || uniform(random, 0.0, 1.0) < start.recall[cell]));
            learn_.push_back(logistic(learn + normal(random, 0.0, 0.5) - (planted ? uniform(random, 1.0, 2.0) : 0.0)));
        }
    }
    std::size_t cells() const override { return known_.size(); }
    double recall(std::size_t cell, double now_s) const override {
        if (!known_[cell]) return guess_;
        // Before the night's end is drawn, what is to be forgotten in it counts by its chance.
        const double days = now_s - last_s_ > kNight_s ? (now_s - last_s_) / 86400.0 : 0.0;
        return guess_ + (1.0 - slip_ - guess_) * std::pow(1.0 - forget_a_day_, days);
    }
    bool answer(std::size_t cell, double now_s) override {
        if (now_s - last_s_ > kNight_s) {
            const double keep = std::pow(1.0 - forget_a_day_, (now_s - last_s_) / 86400.0);
            for (std::size_t each = 0; each < known_.size(); ++each) known_[each] = known_[each] && uniform(random_, 0.0, 1.0) < keep;
        }
        last_s_ = now_s;
        const bool right = uniform(random_, 0.0, 1.0) < (known_[cell] ? 1.0 - slip_ : guess_);
        if (!known_[cell]) known_[cell] = uniform(random_, 0.0, 1.0) < learn_[cell];
        return right;
    }

private:
    std::mt19937 random_;
    std::vector<bool> known_;
    std::vector<double> learn_;
    double slip_ = 0.0, guess_ = 0.0, forget_a_day_ = 0.0, last_s_ = 0.0;
};

}  // namespace

StartingPoint draw_starting_point(std::mt19937& random, double least_other) {
    StartingPoint out;
    out.others_known = least_other >= 0.8;
    const double level = normal(random, 3.2, 0.4), scatter = uniform(random, 0.3, 0.8);
    double quality[4], side[2], key[12];
    for (double& each : quality) each = normal(random, 0.0, 0.4);
    for (double& each : side) each = normal(random, 0.0, 0.3);
    for (double& each : key) each = normal(random, 0.0, 0.5);
    for (std::size_t cell = 0; cell < kCells; ++cell) {
        const double ability = level + quality[cell / 24] + side[cell / 12 % 2] + key[cell % 12] + normal(random, 0.0, scatter);
        out.recall.push_back(std::clamp(logistic(ability), least_other, 0.99));
    }
    while (out.planted.size() < 3) {
        const auto cell = std::uniform_int_distribution<std::size_t>(0, kCells - 1)(random);
        if (std::find(out.planted.begin(), out.planted.end(), cell) != out.planted.end()) continue;
        out.planted.push_back(cell);
        out.recall[cell] = uniform(random, 0.0, 0.02);
    }
    out.attempt_s = uniform(random, 6.0, 15.0);
    out.attempts_a_day = std::uniform_int_distribution<int>(40, 120)(random);
    for (int i = 0; i < 7; ++i) out.days_off.push_back(std::uniform_int_distribution<int>(1, 4)(random));
    return out;
}

std::unique_ptr<SimulatedLearner> activation_learner(const StartingPoint& start, std::mt19937& random) { return std::make_unique<ActivationLearner>(start, random); }
std::unique_ptr<SimulatedLearner> tracing_learner(const StartingPoint& start, std::mt19937& random) { return std::make_unique<TracingLearner>(start, random); }

}  // namespace gripline::test
