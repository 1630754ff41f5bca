// Fits to counts of right answers: over the weeks (trend) and over the days since a thing was last practised (forgetting).
#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include "base/result.h"
#include "practice/statistics_rate.h"

namespace gripline {

/// Right answers among attempts at one place on the x axis.
struct FitPoint {
    double x = 0.0;
    double attempts = 0.0;
    double right = 0.0;  ///< 0 to `attempts`
};

/// Logistic regression on counts: ln(p / (1 - p)) = intercept + slope * x.
struct LogisticFit {
    double intercept = 0.0, slope = 0.0;
    double intercept_error = 0.0, slope_error = 0.0;  ///< standard errors
    double covariance = 0.0;                          ///< of intercept and slope
    double spread = 1.0;       ///< Pearson's chi square by its degrees of freedom; the errors are widened by its root when above 1
    double quantile = kTwoSided95;  ///< of the 95 % intervals: of Student's t when the errors were widened

    [[nodiscard]] double rate(double x) const noexcept;
    /// 95 % band of the rate at x, 0 to 1.
    [[nodiscard]] RateInterval band(double x) const noexcept;
    /// 95 % interval of the slope lies on one side of nought: 1 rising, -1 falling, otherwise 0.
    [[nodiscard]] int direction() const noexcept;
};

/// By iteratively reweighted least squares (McCullagh & Nelder 1989). An error says in words why there is none: fewer than three
/// places, nothing but right (or wrong) answers, or answers that part cleanly into wrong and right at some place.
[[nodiscard]] Result<LogisticFit> fit_logistic(std::span<const FitPoint> points);

/// Quantile 0.975 of Student's t; `degrees` from 1.
[[nodiscard]] double student_quantile(int degrees) noexcept;

/// One week's answers; weeks begin on Monday.
struct WeekCount {
    std::int64_t week = 0;  ///< see week_of
    RateCount count;
};
/// The week that a day (days since 1970-01-01, a Thursday) lies in: 0 is that of 1970-01-01.
[[nodiscard]] constexpr std::int64_t week_of(std::int64_t day) noexcept {
    const std::int64_t shifted = day + 3;  // Monday 1969-12-29 is 0
    return shifted / 7 - (shifted % 7 < 0 ? 1 : 0);
}
/// The day (days since 1970-01-01) of a week's Monday.
[[nodiscard]] constexpr std::int64_t monday_of(std::int64_t week) noexcept { return week * 7 - 3; }

/// A trend needs at least so many attempts in all, in three weeks or more.
inline constexpr long kLeastAttemptsForTrend = 30;
/// x of the fit is the week. An error says why there is none.
[[nodiscard]] Result<LogisticFit> fit_trend(std::span<const WeekCount> weeks);
/// "rising", "falling", "no clear change".
[[nodiscard]] std::string_view trend_word(const LogisticFit& fit) noexcept;

/// Answers by how long ago the same thing had last been practised.
struct GapCount {
    double days = 0.0;
    RateCount count;
};
/// Odds of recall fall as a power of time (Anderson & Schooler 1991): logistic in ln(1 + days).
struct ForgettingCurve {
    LogisticFit fit;  ///< x = ln(1 + days)
    [[nodiscard]] double rate(double days) const noexcept;
    [[nodiscard]] RateInterval band(double days) const noexcept;
};
[[nodiscard]] Result<ForgettingCurve> fit_forgetting(std::span<const GapCount> gaps);

}  // namespace gripline
