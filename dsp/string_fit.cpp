#include "dsp/string_fit.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace gripline::dsp {

namespace {

constexpr int kPartials = 24;
constexpr int kRootPeaks = 12;       // strongest peaks that candidates are made of ...
constexpr int kRootNumbers = 8;      // ... each as partial 1 to 8
constexpr double kUsualStiffness = 8e-5, kStiffnessSpread = 1e-4;  // guitars: 1e-5 to 3e-4 (Fletcher 1964)
constexpr double kLeastPeriods = 10.0;       // in the window: with fewer, partials (two lobes wide) run together
constexpr double kPlaceSpread = 0.01;        // of a candidate's fundamental
constexpr double kStringError = 1.5e-4;      // a quarter of a cent, times n: how far partials of recorded strings stray from the law; the first is the pitch itself
constexpr double kTolerance = 0.008;         // 14 cents: a peak this near to a predicted partial is that partial
constexpr double kMissingWeight = 0.35;      // of a partial's shortfall, against a peak that is there: picked at its middle a string has every other one only
constexpr float kLeastAboveFloor = 12.0F;      // of a string's loudest partial; noise itself reaches 4 to 6
constexpr double kHumShare = 0.9;            // what is hum in all but so little is no string: stiffness soon takes a string's partials off the multiples
constexpr int kReachOfNeighbours = kRootNumbers;  // the string an octave, a twelfth ... three octaves too low is found out

/// Least squares for (f_n / (n c))^2 = a + b n^2, a near 1, b near kUsualStiffness: Fletcher's law is a straight line in n^2.
class Line {
public:
    Line() {
        const double wa = 1.0 / (4.0 * kPlaceSpread * kPlaceSpread), wb = 1.0 / (kStiffnessSpread * kStiffnessSpread);
        saa_ = wa;
        sbb_ = wb;
        sa_ = wa;
        sb_ = wb * kUsualStiffness;
        solve();
    }
    void add(int n, double square, double weight) noexcept {
        const double x = static_cast<double>(n) * n;
        saa_ += weight;
        sab_ += weight * x;
        sbb_ += weight * x * x;
        sa_ += weight * square;
        sb_ += weight * square * x;
        solve();
    }
    [[nodiscard]] double square(int n) const noexcept { return a_ + b_ * n * n; }
    [[nodiscard]] double stiffness() const noexcept { return b_ / a_; }

private:
    void solve() noexcept {
        const double det = saa_ * sbb_ - sab_ * sab_;
        b_ = std::max(0.0, (saa_ * sb_ - sab_ * sa_) / det);
        a_ = (sa_ - sab_ * b_) / saa_;
    }
    double saa_ = 0.0, sab_ = 0.0, sbb_ = 0.0, sa_ = 0.0, sb_ = 0.0, a_ = 1.0, b_ = 0.0;
};

/// Which peak is which partial of a candidate.
struct Match {
    double candidate_hz = 0.0;
    std::array<const SpectralPeak*, kPartials + 1> peak{};  // index = n
    int top = 0, count = 0;
    Line line;
    double score = -1.0;

    [[nodiscard]] double square(int n) const noexcept {
        const double ratio = peak[static_cast<std::size_t>(n)]->hz / (n * candidate_hz);
        return ratio * ratio;
    }
    /// Standard deviation of square(n).
    [[nodiscard]] double error(int n) const noexcept {
        return 2.0 * std::hypot(peak[static_cast<std::size_t>(n)]->error_hz / (n * candidate_hz), kStringError * n);
    }
};

const SpectralPeak* peak_near(std::span<const SpectralPeak> peaks, double hz, double tolerance_hz) noexcept {
    auto at = std::lower_bound(peaks.begin(), peaks.end(), hz - tolerance_hz, [](const SpectralPeak& p, double edge) { return p.hz < edge; });
    const SpectralPeak* best = nullptr;
    double most = 0.0;
    for (; at != peaks.end() && at->hz <= hz + tolerance_hz; ++at) {
        const double d = (at->hz - hz) / tolerance_hz;
        const double worth = static_cast<double>(at->root) * (1.0 - 0.7 * d * d);
        if (worth > most) {
            most = worth;
            best = &*at;
        }
    }
    return best;
}

/// How far partials fall short of the partials on both sides of them (below the lowest there is only one side). A string an octave too low is
/// found out here: every other partial of it is missing, or a weak peak of something else.
double shortfall(const Match& m) noexcept {
    const auto root = [&](int n) { return m.peak[static_cast<std::size_t>(n)] == nullptr ? 0.0 : static_cast<double>(m.peak[static_cast<std::size_t>(n)]->root); };
    double sum = 0.0;
    for (int n = 1; n <= m.top; ++n) {
        double left = n <= kReachOfNeighbours ? 1.0 : 0.0, right = 0.0;
        for (int d = 1; d <= kReachOfNeighbours; ++d) {
            if (n - d >= 1) left = std::max(left, root(n - d));
            if (n + d <= m.top) right = std::max(right, root(n + d));
        }
        sum += std::max(0.0, std::min(left, right) - root(n));
    }
    return sum;
}

Match match(const SpectralPeaks& peaks, double candidate_hz, double window_s, double reach_hz) noexcept {
    Match m;
    m.candidate_hz = candidate_hz;
    double explained = 0.0, explained_hum = 0.0;
    float loudest = 0.0F;
    int not_hum = 0;
    for (int n = 1; n <= kPartials; ++n) {
        const double hz = n * candidate_hz * std::sqrt(m.line.square(n));
        if (hz > reach_hz) break;
        const double tolerance_hz = std::min(std::max(kTolerance * hz, 0.25 / window_s), 0.25 * candidate_hz);
        const SpectralPeak* found = peak_near(peaks.all(), hz, tolerance_hz);
        m.peak[static_cast<std::size_t>(n)] = found;
        if (found == nullptr) continue;
        m.top = n;
        ++m.count;
        explained += static_cast<double>(found->root);
        loudest = std::max(loudest, found->above_floor);
        if (found->may_be_hum) explained_hum += static_cast<double>(found->root);
        else ++not_hum;
        const double error = m.error(n);
        m.line.add(n, m.square(n), 1.0 / (error * error));
    }
    const double to_explain = static_cast<double>(peaks.total_but_hum()) + explained_hum;
    if (peaks.hum() && not_hum < 2) return m;  // a blurred hum line
    if (loudest < kLeastAboveFloor || explained_hum > kHumShare * explained) return m;
    m.score = (explained - kMissingWeight * shortfall(m)) / to_explain;
    return m;
}

/// Fits once more, partials that lie far from the line counting less (Cauchy's weights).
Line settled(const Match& m) noexcept {
    Line line = m.line;
    for (int round = 0; round < 3; ++round) {
        Line next;
        for (int n = 1; n <= m.top; ++n) {
            if (m.peak[static_cast<std::size_t>(n)] == nullptr) continue;
            const double error = m.error(n), off = (m.square(n) - line.square(n)) / (2.0 * error);
            next.add(n, m.square(n), 1.0 / (error * error * (1.0 + off * off)));
        }
        line = next;
    }
    return line;
}

}  // namespace

StringFit fit_string(const SpectralPeaks& peaks, double window_s, double lowest_hz, double highest_hz, double reach_hz) noexcept {
    std::array<const SpectralPeak*, SpectralPeaks::kMost> order{};
    std::size_t count = 0;
    for (const SpectralPeak& peak : peaks.all()) order[count++] = &peak;
    const std::size_t roots = std::min<std::size_t>(count, kRootPeaks);
    std::partial_sort(order.begin(), order.begin() + static_cast<std::ptrdiff_t>(roots), order.begin() + static_cast<std::ptrdiff_t>(count),
                      [](const auto* a, const auto* b) { return a->root > b->root; });
    Match best;
    for (std::size_t i = 0; i < roots; ++i) {
        for (int n = 1; n <= kRootNumbers; ++n) {
            const double hz = order[i]->hz / (n * std::sqrt(1.0 + kUsualStiffness * n * n));
            if (hz < lowest_hz || hz > highest_hz || hz * window_s < kLeastPeriods) continue;
            const Match m = match(peaks, hz, window_s, reach_hz);
            if (m.score > best.score) best = m;
        }
    }
    if (best.count == 0) return {};
    const Line line = settled(best);
    return {.first_hz = best.candidate_hz * std::sqrt(line.square(1)), .stiffness = line.stiffness(), .partials = best.count, .clarity = std::clamp(best.score, 0.0, 1.0)};
}

}  // namespace gripline::dsp
