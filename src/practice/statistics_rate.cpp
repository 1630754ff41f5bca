#include "practice/statistics_rate.h"

#include <algorithm>
#include <cmath>

namespace gripline {

RateInterval wilson_interval(long right, long attempts) noexcept {
    if (attempts <= 0) return {};
    right = std::clamp(right, 0L, attempts);
    const auto n = static_cast<double>(attempts);
    const double rate = static_cast<double>(right) / n, z2 = kTwoSided95 * kTwoSided95;
    // Wilson 1927, as in Newcombe 1998 (Statistics in Medicine 17), method 3.
    const double middle = (rate + z2 / (2.0 * n)) / (1.0 + z2 / n);
    const double half = kTwoSided95 / (1.0 + z2 / n) * std::sqrt(rate * (1.0 - rate) / n + z2 / (4.0 * n * n));
    // All wrong and all right touch the end exactly; rounding must not say otherwise.
    return {right == 0 ? 0.0 : std::max(0.0, middle - half), right == attempts ? 1.0 : std::min(1.0, middle + half)};
}

Standing standing(const RateCount& count) noexcept {
    if (count.attempts < kLeastAttemptsToJudge) return Standing::too_few;
    const RateInterval interval = count.interval();
    if (interval.high < kStandingBorder) return Standing::weak;
    return interval.low >= kStandingBorder ? Standing::strong : Standing::between;
}

std::string_view word(Standing standing) noexcept {
    switch (standing) {
        case Standing::too_few: return "too few";
        case Standing::weak: return "weak";
        case Standing::between: return "between";
        case Standing::strong: return "strong";
    }
    return "";
}

std::string rate_words(const RateCount& count) {
    if (count.attempts <= 0) return "not asked yet";
    const auto per_cent = [](double rate) { return std::to_string(std::lround(100.0 * rate)); };
    const RateInterval interval = count.interval();
    return per_cent(count.rate()) + " % of " + std::to_string(count.attempts) + " (" + per_cent(interval.low) + " to " + per_cent(interval.high) + " %)";
}

RateInterval difference_interval(const RateCount& a, const RateCount& b) noexcept {
    if (a.attempts <= 0 || b.attempts <= 0) return {-1.0, 1.0};
    const RateInterval of_a = a.interval(), of_b = b.interval();
    const double difference = a.rate() - b.rate();
    return {difference - std::hypot(a.rate() - of_a.low, of_b.high - b.rate()), difference + std::hypot(of_a.high - a.rate(), b.rate() - of_b.low)};
}

bool differ(const RateCount& a, const RateCount& b) noexcept {
    if (std::min(a.attempts, b.attempts) < kLeastAttemptsToJudge) return false;
    const RateInterval interval = difference_interval(a, b);
    return interval.low > 0.0 || interval.high < 0.0;
}

}  // namespace gripline
