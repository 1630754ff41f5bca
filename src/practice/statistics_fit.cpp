#include "practice/statistics_fit.h"

#include <algorithm>
#include <cmath>

namespace gripline {

namespace {

constexpr int kMostRounds = 50;           // Newton's method settles within ten where there is an optimum
constexpr double kSettled = 1e-12;        // relative change of the log likelihood
constexpr double kParted_logits = 15.0;   // rates beyond 3e-7 from 0 or 1 at every place: the answers part cleanly
constexpr int kLeastPlaces = 3;

double logistic(double logit) { return 1.0 / (1.0 + std::exp(-logit)); }

/// Sums of a weighted straight line: weights, weighted x and so on.
struct Sums {
    double w = 0.0, x = 0.0, xx = 0.0, z = 0.0, xz = 0.0;
    [[nodiscard]] double determinant() const { return w * xx - x * x; }
};

Sums weighted_sums(std::span<const FitPoint> points, double intercept, double slope, double middle) {
    Sums sums;
    for (const FitPoint& point : points) {
        const double x = point.x - middle, logit = intercept + slope * x, rate = logistic(logit);
        const double w = std::max(point.attempts * rate * (1.0 - rate), 1e-300);
        const double z = logit + (point.right - point.attempts * rate) / w;  // the working answer
        sums.w += w;
        sums.x += w * x;
        sums.xx += w * x * x;
        sums.z += w * z;
        sums.xz += w * x * z;
    }
    return sums;
}

double log_likelihood(std::span<const FitPoint> points, double intercept, double slope, double middle) {
    double sum = 0.0;
    for (const FitPoint& point : points) {
        const double logit = intercept + slope * (point.x - middle);
        sum += point.right * logit - point.attempts * (std::max(logit, 0.0) + std::log1p(std::exp(-std::abs(logit))));
    }
    return sum;
}

/// Why there can be no fit, or nothing.
std::string obstacle(std::span<const FitPoint> points) {
    std::vector<double> places;
    double attempts = 0.0, right = 0.0;
    for (const FitPoint& point : points) {
        if (point.attempts <= 0.0) continue;
        if (std::find(places.begin(), places.end(), point.x) == places.end()) places.push_back(point.x);
        attempts += point.attempts;
        right += point.right;
    }
    if (places.size() < kLeastPlaces) return std::to_string(places.size()) + " of the three times that a fit needs";
    if (right <= 0.0) return "not one right answer yet";
    if (right >= attempts) return "every answer was right";
    return "";
}

double pearson_by_degrees(std::span<const FitPoint> points, double intercept, double slope, double middle) {
    double chi_square = 0.0;
    int places = 0;
    for (const FitPoint& point : points) {
        if (point.attempts <= 0.0) continue;
        const double rate = logistic(intercept + slope * (point.x - middle)), off = point.right - point.attempts * rate;
        chi_square += off * off / (point.attempts * rate * (1.0 - rate));
        ++places;
    }
    return chi_square / std::max(1, places - 2);
}

}  // namespace

double LogisticFit::rate(double x) const noexcept { return logistic(intercept + slope * x); }

RateInterval LogisticFit::band(double x) const noexcept {
    const double variance = intercept_error * intercept_error + 2.0 * x * covariance + x * x * slope_error * slope_error;
    const double logit = intercept + slope * x, half = quantile * std::sqrt(std::max(0.0, variance));
    return {logistic(logit - half), logistic(logit + half)};
}

int LogisticFit::direction() const noexcept {
    if (std::abs(slope) <= quantile * slope_error) return 0;
    return slope > 0.0 ? 1 : -1;
}

Result<LogisticFit> fit_logistic(std::span<const FitPoint> points) {
    if (const std::string why = obstacle(points); !why.empty()) return Error{why};
    double attempts = 0.0, right = 0.0, middle = 0.0;
    for (const FitPoint& point : points) {
        attempts += point.attempts;
        right += point.right;
        middle += point.attempts * point.x;
    }
    middle /= attempts;  // weeks are counted from 1970: without a middle the sums would cancel
    double intercept = std::log(right / (attempts - right)), slope = 0.0;
    double likelihood = log_likelihood(points, intercept, slope, middle);
    bool settled = false;
    for (int round = 0; round < kMostRounds && !settled; ++round) {
        const Sums sums = weighted_sums(points, intercept, slope, middle);
        if (!(sums.determinant() > 0.0)) break;
        double next_slope = (sums.w * sums.xz - sums.x * sums.z) / sums.determinant();
        double next_intercept = (sums.z - next_slope * sums.x) / sums.w;
        double next = log_likelihood(points, next_intercept, next_slope, middle);
        for (int halving = 0; halving < 20 && !(next >= likelihood - kSettled * std::abs(likelihood)); ++halving) {
            next_slope = 0.5 * (next_slope + slope);
            next_intercept = 0.5 * (next_intercept + intercept);
            next = log_likelihood(points, next_intercept, next_slope, middle);
        }
        settled = std::abs(next - likelihood) <= kSettled * (std::abs(likelihood) + 1e-3);
        intercept = next_intercept;
        slope = next_slope;
        likelihood = next;
    }
    const bool parted = std::all_of(points.begin(), points.end(), [&](const FitPoint& point) {
        return point.attempts <= 0.0 || std::abs(intercept + slope * (point.x - middle)) > kParted_logits;
    });
    if (!settled || parted || !std::isfinite(slope)) return Error{"wrong answers before, right ones after (or the reverse), with no overlap to fit a line through"};
    LogisticFit fit;
    const Sums sums = weighted_sums(points, intercept, slope, middle);
    fit.spread = pearson_by_degrees(points, intercept, slope, middle);
    const double widened = std::max(1.0, fit.spread);
    if (fit.spread > 1.0) {
        const auto places = std::count_if(points.begin(), points.end(), [](const FitPoint& point) { return point.attempts > 0.0; });
        fit.quantile = student_quantile(static_cast<int>(std::max<std::ptrdiff_t>(1, places - 2)));
    }
    const double var_slope = widened * sums.w / sums.determinant(), var_middle = widened * sums.xx / sums.determinant(), cov_middle = -widened * sums.x / sums.determinant();
    fit.slope = slope;
    fit.intercept = intercept - slope * middle;
    fit.slope_error = std::sqrt(var_slope);
    fit.covariance = cov_middle - middle * var_slope;
    fit.intercept_error = std::sqrt(std::max(0.0, var_middle - 2.0 * middle * cov_middle + middle * middle * var_slope));
    return fit;
}

double student_quantile(int degrees) noexcept {
    // Student's t, 0.975: any printed table (e.g. NIST/SEMATECH e-Handbook 1.3.6.7.2); checked against SciPy in the tests.
    constexpr std::array kTable{12.706205, 4.302653, 3.182446, 2.776445, 2.570582, 2.446912, 2.364624, 2.306004, 2.262157, 2.228139};
    if (degrees <= static_cast<int>(kTable.size())) return kTable[static_cast<std::size_t>(std::max(1, degrees) - 1)];
    // Cornish-Fisher expansion (Abramowitz & Stegun 26.7.5), good to 1e-5 from ten degrees on.
    const double z = kTwoSided95, n = degrees, z3 = z * z * z, z5 = z3 * z * z, z7 = z5 * z * z, z9 = z7 * z * z;
    return z + (z3 + z) / (4 * n) + (5 * z5 + 16 * z3 + 3 * z) / (96 * n * n) + (3 * z7 + 19 * z5 + 17 * z3 - 15 * z) / (384 * n * n * n) +
           (79 * z9 + 776 * z7 + 1482 * z5 - 1920 * z3 - 945 * z) / (92160 * n * n * n * n);
}

Result<LogisticFit> fit_trend(std::span<const WeekCount> weeks) {
    long attempts = 0;
    std::vector<FitPoint> points;
    for (const WeekCount& week : weeks) {
        attempts += week.count.attempts;
        points.push_back({static_cast<double>(week.week), static_cast<double>(week.count.attempts), static_cast<double>(week.count.right)});
    }
    if (attempts < kLeastAttemptsForTrend) return Error{std::to_string(attempts) + " of the " + std::to_string(kLeastAttemptsForTrend) + " attempts that a trend needs"};
    return fit_logistic(points);
}

std::string_view trend_word(const LogisticFit& fit) noexcept {
    return fit.direction() > 0 ? "rising" : fit.direction() < 0 ? "falling" : "no clear change";
}

double ForgettingCurve::rate(double days) const noexcept { return fit.rate(std::log1p(std::max(0.0, days))); }
RateInterval ForgettingCurve::band(double days) const noexcept { return fit.band(std::log1p(std::max(0.0, days))); }

Result<ForgettingCurve> fit_forgetting(std::span<const GapCount> gaps) {
    std::vector<FitPoint> points;
    for (const GapCount& gap : gaps) points.push_back({std::log1p(std::max(0.0, gap.days)), static_cast<double>(gap.count.attempts), static_cast<double>(gap.count.right)});
    auto fit = fit_logistic(points);
    if (!fit) return fit.error();
    return ForgettingCurve{*fit};
}

}  // namespace gripline
