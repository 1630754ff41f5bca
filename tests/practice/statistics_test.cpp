// Statistics against published worked examples and a reference implementation: statsmodels 0.13.5, SciPy 1.10.1 (Debian 12).
#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <vector>

#include "practice/statistics_fit.h"
#include "practice/statistics_rate.h"
#include "practice/statistics_tally.h"

using namespace gripline;

TEST_CASE("Wilson's interval: the worked examples of Newcombe 1998 (Statistics in Medicine 17, Table I) and statsmodels 0.13.5") {
    struct Row {
        long right, attempts;
        double low, high;
    };
    // Newcombe's four examples, printed there to four decimals: 81/263, 15/148, 0/20, 1/29.
    for (const Row& row : {Row{81, 263, 0.2553, 0.3662}, Row{15, 148, 0.0624, 0.1605}, Row{0, 20, 0.0, 0.1611}, Row{1, 29, 0.0061, 0.1718}}) {
        const RateInterval interval = wilson_interval(row.right, row.attempts);
        CHECK(std::abs(interval.low - row.low) < 0.00005);
        CHECK(std::abs(interval.high - row.high) < 0.00005);
    }
    // statsmodels.stats.proportion.proportion_confint(..., method="wilson")
    for (const Row& row : {Row{0, 1, 0.0, 0.7934506856}, Row{0, 3, 0.0, 0.5614970318}, Row{4, 8, 0.2152160622, 0.7847839378}, Row{16, 16, 0.8063923195, 1.0},
                           Row{15, 20, 0.5312991224, 0.8881382986}, Row{950, 1000, 0.9346861798, 0.9618697376}}) {
        const RateInterval interval = wilson_interval(row.right, row.attempts);
        CHECK(interval.low == doctest::Approx(row.low).epsilon(1e-9));
        CHECK(interval.high == doctest::Approx(row.high).epsilon(1e-9));
    }
    CHECK(wilson_interval(0, 0).low == 0.0);
    CHECK(wilson_interval(0, 0).high == 1.0);
    CHECK(wilson_interval(9, 4).high == 1.0);  // more right than asked can't push it past the end
}

TEST_CASE("Nothing is weak or strong below eight attempts, nor while the interval holds the border") {
    for (long attempts = 0; attempts < kLeastAttemptsToJudge; ++attempts)
        for (long right = 0; right <= attempts; ++right) CHECK(standing({attempts, right}) == Standing::too_few);
    CHECK(standing({8, 4}) == Standing::weak);
    CHECK(standing({8, 5}) == Standing::between);
    CHECK(standing({15, 15}) == Standing::between);
    CHECK(standing({16, 16}) == Standing::strong);
    CHECK(rate_words({20, 15}) == "75 % of 20 (53 to 89 %)");
    CHECK(rate_words({}) == "not asked yet");
}

TEST_CASE("The difference of two rates: statsmodels 0.13.5, confint_proportions_2indep(method=\"newcomb\"); Newcombe 1998's own 56/70 - 48/80") {
    const RateInterval published = difference_interval({70, 56}, {80, 48});  // Statistics in Medicine 17, pp. 873-890, Table II (a): 0.0524 to 0.3339
    CHECK(std::abs(published.low - 0.0524) < 0.00005);
    CHECK(std::abs(published.high - 0.3339) < 0.00005);
    CHECK(differ({70, 56}, {80, 48}));
    CHECK_FALSE(differ({70, 50}, {80, 48}));
    CHECK_FALSE(differ({5, 5}, {200, 0}));  // too few on one side, however clear it looks
}

TEST_CASE("Logistic fit: the beetles of Bliss 1935, as worked in Dobson, An Introduction to Generalized Linear Models, and by statsmodels") {
    const std::array<FitPoint, 8> beetles{{{1.6907, 59, 6}, {1.7242, 60, 13}, {1.7552, 62, 18}, {1.7842, 56, 28}, {1.8113, 63, 52}, {1.8369, 59, 53}, {1.8610, 62, 61}, {1.8839, 60, 60}}};
    const auto fit = fit_logistic(beetles);
    REQUIRE(fit);
    CHECK(std::abs(fit->intercept + 60.72) < 0.005);  // Dobson: -60.72 (5.18), 34.27 (2.91)
    CHECK(std::abs(fit->slope - 34.27) < 0.005);
    CHECK(fit->intercept == doctest::Approx(-60.71745456).epsilon(1e-7));
    CHECK(fit->slope == doctest::Approx(34.27032573).epsilon(1e-7));
    CHECK(fit->spread * 6 == doctest::Approx(10.02681758563758).epsilon(1e-7));
    // Widened: the plain errors 5.18071146 and 2.91214007 times the root of pearson_chi2 / 6 (McCullagh & Nelder 1989, 4.5).
    CHECK(fit->intercept_error == doctest::Approx(5.18071146 * std::sqrt(fit->spread)).epsilon(1e-6));
    CHECK(fit->slope_error == doctest::Approx(2.91214007 * std::sqrt(fit->spread)).epsilon(1e-6));
    CHECK(fit->covariance == doctest::Approx(-15.08215101 * fit->spread).epsilon(1e-6));
    CHECK(fit->rate(1.80) == doctest::Approx(0.72494641).epsilon(1e-7));
}

TEST_CASE("A trend whose weeks scatter more than chance has a wider band: GLM Binomial of statsmodels 0.13.5, its pearson_chi2, t of SciPy 1.10.1") {
    const std::array<WeekCount, 6> weeks{{{2900, {20, 4}}, {2901, {35, 22}}, {2902, {12, 2}}, {2904, {40, 36}}, {2905, {30, 12}}, {2906, {25, 24}}}};
    const auto fit = fit_trend(weeks);
    REQUIRE(fit);
    INFO(fit->slope);
    CHECK(fit->slope == doctest::Approx(0.33439590).epsilon(1e-6));
    CHECK(fit->slope_error == doctest::Approx(0.28219644).epsilon(1e-6));
    CHECK(fit->spread == doctest::Approx(11.48182272).epsilon(1e-6));
    CHECK(fit->rate(2900) == doctest::Approx(0.36795686).epsilon(1e-6));
    CHECK(fit->band(2900).low == doctest::Approx(0.03458220).epsilon(1e-5));
    CHECK(fit->band(2906).high == doctest::Approx(0.98755798).epsilon(1e-5));
    CHECK(trend_word(*fit) == "no clear change");
}

TEST_CASE("Forgetting: the savings that Ebbinghaus printed in 1885, fitted by statsmodels 0.13.5 in ln(1 + days)") {
    const double minutes[] = {20, 64, 526, 1440, 2880, 8640, 44640};  // Ueber das Gedaechtnis, section 28
    const long tenths[] = {582, 442, 358, 337, 278, 254, 211};        // per mille saved
    std::vector<GapCount> gaps;
    for (int i = 0; i < 7; ++i) gaps.push_back({minutes[i] / 1440.0, {1000, tenths[i]}});
    const auto curve = fit_forgetting(gaps);
    REQUIRE(curve);
    CHECK(curve->fit.intercept == doctest::Approx(-0.2169205726).epsilon(1e-6));  // the reference fits shares of 100: the same line
    CHECK(curve->fit.slope == doctest::Approx(-0.3982668043).epsilon(1e-6));
    CHECK(curve->rate(7) == doctest::Approx(0.26016847).epsilon(1e-6));
    CHECK(curve->fit.direction() == -1);
    CHECK(curve->band(7).low < curve->rate(7));
}

TEST_CASE("What can't be fitted is refused with the reason, whatever the counts") {
    CHECK(fit_trend(std::vector<WeekCount>{{1, {10, 5}}, {2, {10, 6}}, {3, {9, 6}}}).error().message == "29 of the 30 attempts that a trend needs");
    CHECK(fit_trend(std::vector<WeekCount>{{1, {50, 5}}, {2, {10, 6}}}).error().message == "2 of the three times that a fit needs");
    CHECK(fit_trend(std::vector<WeekCount>{{1, {50, 50}}, {2, {10, 10}}, {3, {10, 10}}}).error().message == "every answer was right");
    CHECK(fit_trend(std::vector<WeekCount>{{1, {50, 0}}, {2, {10, 0}}, {3, {10, 0}}}).error().message == "not one right answer yet");
    CHECK_FALSE(fit_trend(std::vector<WeekCount>{{1, {50, 0}}, {2, {10, 0}}, {3, {10, 10}}}));  // parts cleanly: no finite slope
    const auto far = fit_trend(std::vector<WeekCount>{{-3000, {20, 5}}, {0, {10, 6}}, {100000, {10, 9}}});
    REQUIRE(far);
    CHECK(far->direction() >= 0);
    CHECK(fit_trend(std::vector<WeekCount>{{1, {100, 20}}, {2, {100, 40}}, {3, {100, 60}}})->direction() == 1);
}

TEST_CASE("Student's quantile: SciPy 1.10.1, stats.t.ppf(0.975, n)") {
    for (const auto& [degrees, quantile] : {std::pair(1, 12.706205), std::pair(4, 2.776445), std::pair(10, 2.228139), std::pair(12, 2.178813), std::pair(15, 2.131450), std::pair(30, 2.042272), std::pair(120, 1.979930)})
        CHECK(std::abs(student_quantile(degrees) - quantile) < 2e-5);
}

TEST_CASE("Weeks begin on Monday: 1970-01-01 was a Thursday (ISO 8601)") {
    CHECK(week_of(0) == 0);
    CHECK(week_of(3) == 0);   // Sunday 1970-01-04
    CHECK(week_of(4) == 1);   // Monday 1970-01-05
    CHECK(week_of(-3) == 0);  // Monday 1969-12-29
    CHECK(week_of(-4) == -1);
    CHECK(monday_of(week_of(20783)) <= 20783);
}

TEST_CASE("Time to answer: quartiles as NumPy 1.24.2 has them, the median's interval from order statistics (Conover 1999: of ten the 2nd and 9th)") {
    const auto times = answer_times({1.2, 3.4, 2.2, 5.0, 1.9, 2.8, 4.1, 9.5, 2.4, 3.0, std::nan(""), -1.0});
    REQUIRE(times);
    CHECK(times->count == 10);
    CHECK(times->quarter_s == doctest::Approx(2.25));
    CHECK(times->median_s == doctest::Approx(2.9));
    CHECK(times->three_quarters_s == doctest::Approx(3.925));
    REQUIRE(times->median_low_s);
    CHECK(*times->median_low_s == 1.9);
    CHECK(*times->median_high_s == 5.0);
    CHECK_FALSE(answer_times({1, 2, 3, 4, 5})->median_low_s);  // five can't bound a median at 95 %: 2 * 2^-5 > 0.05
    CHECK(answer_times({1, 2, 3, 4, 5, 6})->median_low_s == 1.0);
    CHECK(answer_times(std::vector<double>(5000, 2.0))->median_high_s == 2.0);
    CHECK_FALSE(answer_times({}));
}

TEST_CASE("Tempo reached is the fastest at which eight in ten are sure") {
    CHECK_FALSE(tempo_reached({{100, {15, 15}}}));
    CHECK(tempo_reached({{100, {16, 16}}}).value().tempo_bpm == 100.0);
    CHECK(tempo_reached({{100, {40, 40}}, {120, {40, 38}}, {160, {10, 3}}}).value().tempo_bpm == 100.0);
    CHECK(tempo_reached({{100, {40, 40}}, {120, {60, 58}}, {160, {5, 3}}}).value().tempo_bpm == 120.0);
    CHECK(tempo_reached({{100, {40, 40}}, {120, {60, 58}}, {160, {5, 3}}}).value().count == RateCount{65, 61});
}

TEST_CASE("Asked against heard by string and frets; the commonest fault is named only when it is clear") {
    Confusion confusion;
    Attempt right, flat, silent, unheard;
    right.verdict = VerdictKind::right;
    flat.verdict = VerdictKind::wrong;
    flat.faults = {{.kind = FaultKind::wrong_note, .string = StringNumber(4), .frets = -1, .asked = MidiNote(53), .heard = MidiNote(52), .probability = 0.9}};
    silent.verdict = VerdictKind::wrong;
    silent.faults = {{.kind = FaultKind::missing_note, .string = StringNumber(3), .frets = 0, .asked = MidiNote(58), .heard = std::nullopt, .probability = 0.9}};
    for (int i = 0; i < 5; ++i) confusion.add(flat);
    CHECK_FALSE(confusion.commonest());
    for (int i = 0; i < 30; ++i) confusion.add(right);
    confusion.add(silent);
    confusion.add(unheard);  // no part of it
    CHECK(confusion.attempts() == 36);
    const auto rows = confusion.rows();
    REQUIRE(rows.size() == 3);
    CHECK(rows[0].string == 6);
    CHECK(rows[1].string == 4);
    CHECK(rows[1].off_by_frets.at(-1) == 5);
    CHECK(rows[1].sounded == RateCount{36, 31});
    CHECK(rows[2].missing == 1);
    CHECK_FALSE(confusion.commonest());  // 5 against 1 of 36 may be chance
    for (int i = 0; i < 8; ++i) confusion.add(flat);
    CHECK(confusion.commonest() == "string 4, one fret flat: 13 of 44");
}
