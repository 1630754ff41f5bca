// Rates of right answers with what small numbers allow to be said of them.
#pragma once

#include <string>
#include <string_view>

namespace gripline {

/// Bounds of a rate, 0 to 1.
struct RateInterval {
    double low = 0.0;
    double high = 1.0;
};

/// Standard normal quantile of two-sided 95 % intervals.
inline constexpr double kTwoSided95 = 1.959963984540054;

/// Wilson's score interval of `right` in `attempts` (95 %). Nothing counted yet: 0 to 1. `right` is taken as 0 to `attempts`.
[[nodiscard]] RateInterval wilson_interval(long right, long attempts) noexcept;

/// Right answers among attempts.
struct RateCount {
    long attempts = 0;
    long right = 0;

    /// 0 to 1; 0 when nothing was counted.
    [[nodiscard]] double rate() const noexcept { return attempts > 0 ? static_cast<double>(right) / static_cast<double>(attempts) : 0.0; }
    [[nodiscard]] RateInterval interval() const noexcept { return wilson_interval(right, attempts); }
    RateCount& operator+=(const RateCount& other) noexcept {
        attempts += other.attempts;
        right += other.right;
        return *this;
    }
    friend bool operator==(const RateCount&, const RateCount&) = default;
};

/// Below so many attempts nothing is called weak or strong: 4 right in 8 is the first count whose interval lies below the border
/// without being all wrong; a rate from fewer has an interval wider than 0.5.
inline constexpr long kLeastAttemptsToJudge = 8;
/// Between weak and strong: eight in ten (common practice of teachers, no source).
inline constexpr double kStandingBorder = 0.8;

/// What may be said of a rate: `weak` when its whole interval lies below the border, `strong` when it lies above.
enum class Standing { too_few, weak, between, strong };
[[nodiscard]] Standing standing(const RateCount& count) noexcept;
/// "too few", "weak", "between", "strong".
[[nodiscard]] std::string_view word(Standing standing) noexcept;

/// "75 % of 20 (53 to 89 %)"; "not asked yet" without attempts.
[[nodiscard]] std::string rate_words(const RateCount& count);

/// Whether two rates differ by more than chance allows: Newcombe's interval of their difference (1998, method 10: from the two
/// Wilson intervals) leaves out nought. False when either has fewer attempts than kLeastAttemptsToJudge.
[[nodiscard]] bool differ(const RateCount& a, const RateCount& b) noexcept;
/// Newcombe's interval of rate(a) - rate(b): -1 to 1.
[[nodiscard]] RateInterval difference_interval(const RateCount& a, const RateCount& b) noexcept;

}  // namespace gripline
