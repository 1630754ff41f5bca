// The learner model: published closed forms, and what its description promises.
#include "practice/learner.h"

#include <doctest/doctest.h>

#include <cmath>

#include "support/drill.h"

using namespace gripline;
using gripline::test::skill_of_cell;

namespace {

constexpr std::int64_t kMorning_ms = 1'790'000'000'000, kMinute_ms = 60'000, kDay_ms = 86'400'000;

}  // namespace

TEST_CASE("Recall is the probit of a doubted mean: Python 3.11 statistics.NormalDist, cdf(mean / sqrt(1 + variance)), cdf((inv_cdf(rate) - mean) / sd)") {
    CHECK(RecallBelief{0.9, 0.64}.recall() == doctest::Approx(0.7589041695).epsilon(1e-6));
    CHECK(RecallBelief{0.0, 5.0}.recall() == doctest::Approx(0.5));
    CHECK(RecallBelief{0.9, 0.64}.surely_below(0.9) == doctest::Approx(0.6832973829).epsilon(1e-6));
    CHECK(RecallBelief{0.9, 0.64}.surely_below(0.5) == doctest::Approx(0.1302945171).epsilon(1e-6));
}

TEST_CASE("One answer moves a belief as the exact posterior of a probit: mean and variance by numerical integration") {
    // One part only: everything else is sure to be nought.
    LearnerConfig config;
    config.start = 0.3;
    config.start_doubt = 1.2;
    config.factor_doubt = config.chord_doubt = config.own_doubt = 1e-6;
    config.right_gain = config.wrong_gain = config.forgetting = config.recency = 0.0;
    config.gain_doubt = config.forgetting_doubt = config.recency_doubt = 1e-6;
    config.practice_drift = config.day_drift = 0.0;
    for (const bool right : {true, false}) {
        LearnerModel model(config);
        const auto cell = model.number(skill_of_cell(5));
        model.answer(cell, right, kMorning_ms);
        double mass = 0.0, first = 0.0, second = 0.0;
        for (double s = -9.0; s <= 9.0; s += 0.001) {
            const double prior = std::exp(-0.5 * (s - 0.3) * (s - 0.3) / 1.44), chance = 0.5 * std::erfc(-(right ? s : -s) / std::sqrt(2.0));
            mass += prior * chance;
            first += prior * chance * s;
            second += prior * chance * s * s;
        }
        const RecallBelief belief = model.belief(cell, kMorning_ms);
        CHECK(belief.mean == doctest::Approx(first / mass).epsilon(1e-4));
        CHECK(belief.variance == doctest::Approx(second / mass - first * first / mass / mass).epsilon(1e-4));
    }
}

TEST_CASE("Neighbours share strength: a wrong answer lowers what is alike more than what is not") {
    LearnerModel model;
    const Skill asked = skill_of_cell(0);
    Skill alike = asked, apart = skill_of_cell(95);
    alike.asking = Asking::named;
    apart.asking = Asking::by_ear;
    apart.strings = "5-3-2";
    const auto a = model.number(asked), b = model.number(alike), c = model.number(apart);
    const double before = model.belief(b, kMorning_ms).recall();
    CHECK(model.belief(c, kMorning_ms).recall() == doctest::Approx(before));
    for (int i = 0; i < 4; ++i) model.answer(a, false, kMorning_ms + i * kMinute_ms);
    const double own = model.belief(a, kMorning_ms).recall(), near = model.belief(b, kMorning_ms).recall(), far = model.belief(c, kMorning_ms).recall();
    CHECK(own < near);
    CHECK(near < far - 0.02);
    CHECK(far < before);
    CHECK(model.count(b).attempts == 0);
}

TEST_CASE("What was right is forgotten over days, slower the oftener it was right") {
    const auto falls = [](int times) {
        LearnerModel model;
        const auto cell = model.number(skill_of_cell(3));
        std::int64_t at_ms = kMorning_ms;
        for (int i = 0; i < times; ++i) model.answer(cell, true, at_ms += kMinute_ms);
        double last = 1.0;
        for (const int days : {0, 1, 3, 10, 40, 200}) {
            const double recall = model.belief(cell, at_ms + days * kDay_ms).recall();
            CHECK(recall < last);
            last = recall;
        }
        return model.belief(cell, at_ms).mean - model.belief(cell, at_ms + 10 * kDay_ms).mean;
    };
    CHECK(falls(2) > falls(12));
}

TEST_CASE("What was missed and just learnt slips within the hour, what was always right hardly; then both keep to the slower forgetting") {
    const auto at = [](std::initializer_list<bool> answers, std::int64_t after_ms) {
        LearnerModel model;
        const auto cell = model.number(skill_of_cell(11));
        std::int64_t at_ms = kMorning_ms;
        for (const bool right : answers) model.answer(cell, right, at_ms += kMinute_ms);
        return model.belief(cell, at_ms + after_ms).mean - model.belief(cell, at_ms).mean;
    };
    const double learnt = at({false, false, true, true}, 60 * kMinute_ms), known = at({true, true}, 60 * kMinute_ms);
    CHECK(learnt < 4.0 * known);
    CHECK(at({false, false, true, true}, 20 * kDay_ms) - learnt > learnt);
    CHECK(at({false, false, true, true, true, true, true, true}, 60 * kMinute_ms) > learnt);  // the oftener right since, the less
}

TEST_CASE("A model from totals stands between those that saw the wrong answers first and last; a clock set back breaks nothing") {
    LearnerModel wrong_first, wrong_last, told;
    const auto a = wrong_first.number(skill_of_cell(7)), b = told.number(skill_of_cell(7));
    wrong_last.number(skill_of_cell(7));
    for (int i = 0; i < 20; ++i) {
        wrong_first.answer(a, i >= 5, kMorning_ms + i * kMinute_ms);
        wrong_last.answer(a, i < 15, kMorning_ms + i * kMinute_ms);
    }
    told.recall_totals(b, {20, 15}, kMorning_ms + 19 * kMinute_ms);
    const double recall = told.belief(b, kMorning_ms + kDay_ms).recall();
    CHECK(recall < wrong_first.belief(a, kMorning_ms + kDay_ms).recall());
    CHECK(recall > wrong_last.belief(a, kMorning_ms + kDay_ms).recall());
    CHECK(told.count(b) == RateCount{20, 15});
    LearnerModel large;
    const auto c = large.number(skill_of_cell(1));
    large.recall_totals(c, {1'000'000, 900'000}, kMorning_ms);
    CHECK(large.count(c) == RateCount{1'000'000, 900'000});
    CHECK(large.belief(c, kMorning_ms).recall() > 0.8);
    large.answer(c, true, kMorning_ms - 100 * kDay_ms);
    CHECK(large.last_ms(c) == kMorning_ms);
    CHECK(std::isfinite(large.belief(c, kMorning_ms - kDay_ms).recall()));
}

TEST_CASE("A thousand answers of one kind leave a finite belief") {
    for (const bool right : {true, false}) {
        LearnerModel model;
        const auto cell = model.number(skill_of_cell(9));
        for (int i = 0; i < 1000; ++i) model.answer(cell, right, kMorning_ms + i * kMinute_ms);
        const double recall = model.belief(cell, kMorning_ms + 1000 * kMinute_ms).recall();
        CHECK(std::isfinite(recall));
        CHECK((right ? recall > 0.95 : recall < 0.2));
    }
}
