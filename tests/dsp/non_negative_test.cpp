// Non-negative least squares against cases worked by hand, against all active sets tried one by one, and against the
// Kuhn-Tucker conditions (Lawson & Hanson, Solving Least Squares Problems, 1974, chapter 23).
#include "dsp/non_negative.h"

#include <doctest/doctest.h>

#include <cmath>
#include <random>
#include <vector>

using gripline::dsp::solve_non_negative;

namespace {

using Vector = std::vector<float>;

Vector solve(const Vector& gram, const Vector& target, Vector start = {}) {
    Vector x = start.empty() ? Vector(target.size(), 0.0F) : std::move(start);
    solve_non_negative(gram, target, x);
    return x;
}

struct Problem {
    std::size_t rows, columns;
    Vector a, b, gram, target;
};

/// A (rows x columns) and b with random entries; `positive` as spectra are.
Problem random_problem(std::size_t rows, std::size_t columns, bool positive, unsigned seed) {
    Problem p{rows, columns, Vector(rows * columns), Vector(rows), Vector(columns * columns), Vector(columns)};
    std::mt19937 random(seed);
    std::uniform_real_distribution<float> value(positive ? 0.0F : -1.0F, 1.0F);
    for (float& x : p.a) x = value(random);
    for (float& x : p.b) x = value(random);
    for (std::size_t i = 0; i < columns; ++i) {
        for (std::size_t r = 0; r < rows; ++r) p.target[i] += p.a[r * columns + i] * p.b[r];
        for (std::size_t j = 0; j < columns; ++j)
            for (std::size_t r = 0; r < rows; ++r) p.gram[i * columns + j] += p.a[r * columns + i] * p.a[r * columns + j];
    }
    return p;
}

double residual(const Problem& p, const std::vector<double>& x) {
    double sum = 0.0;
    for (std::size_t r = 0; r < p.rows; ++r) {
        double d = -p.b[r];
        for (std::size_t i = 0; i < p.columns; ++i) d += p.a[r * p.columns + i] * x[i];
        sum += d * d;
    }
    return sum;
}

/// Least residual over all sets of free columns whose unconstrained solution is not negative.
double best_by_trying_all(const Problem& p) {
    double best = 1e300;
    for (unsigned set = 0; set < (1U << p.columns); ++set) {
        std::vector<std::size_t> free;
        for (std::size_t i = 0; i < p.columns; ++i)
            if ((set >> i) & 1U) free.push_back(i);
        const std::size_t n = free.size();
        std::vector<double> m(n * (n + 1));
        for (std::size_t i = 0; i < n; ++i) {
            for (std::size_t j = 0; j < n; ++j) m[i * (n + 1) + j] = p.gram[free[i] * p.columns + free[j]];
            m[i * (n + 1) + n] = p.target[free[i]];
        }
        for (std::size_t k = 0; k < n; ++k)  // Gauss-Jordan; the Gram matrix of independent columns needs no pivoting
            for (std::size_t i = 0; i < n; ++i) {
                if (i == k) continue;
                const double f = m[i * (n + 1) + k] / m[k * (n + 1) + k];
                for (std::size_t j = k; j <= n; ++j) m[i * (n + 1) + j] -= f * m[k * (n + 1) + j];
            }
        std::vector<double> x(p.columns, 0.0);
        bool allowed = true;
        for (std::size_t i = 0; i < n; ++i) {
            x[free[i]] = m[i * (n + 1) + n] / m[i * (n + 1) + i];
            allowed = allowed && x[free[i]] >= 0.0;
        }
        if (allowed) best = std::min(best, residual(p, x));
    }
    return best;
}

}  // namespace

TEST_CASE("by hand: where the plain solution is not negative, it is the answer") {
    // A = [1 0; 1 1; 0 1], b = (1, 3, 2): A'A = [2 1; 1 2], A'b = (4, 5); x = (1, 2).
    const auto x = solve({2, 1, 1, 2}, {4, 5});
    CHECK(std::abs(x[0] - 1.0F) < 1e-3F);
    CHECK(std::abs(x[1] - 2.0F) < 1e-3F);
}

TEST_CASE("by hand: a weight that would be negative is 0 and the other is fitted alone") {
    // A = [1 1; 0 1], b = (1, -1): plain solution (2, -1); on x >= 0 the second is 0 and the first 1.
    const auto x = solve({1, 1, 1, 2}, {1, 0});
    CHECK(std::abs(x[0] - 1.0F) < 1e-3F);
    CHECK(x[1] == 0.0F);
}

TEST_CASE("by hand: nothing to explain, and a sound against every column, give zeros") {
    CHECK(solve({2, 1, 1, 2}, {0, 0}) == Vector{0, 0});
    CHECK(solve({2, 1, 1, 2}, {-1, -3}, {5, 5}) == Vector{0, 0});
}

TEST_CASE("a column of zeros and two equal columns are no trouble") {
    const auto empty = solve({2, 0, 0, 0}, {4, 0});
    CHECK(std::abs(empty[0] - 2.0F) < 1e-4F);
    CHECK(empty[1] == 0.0F);
    const auto twins = solve({1, 1, 1, 1}, {3, 3});  // any split of 3
    CHECK(std::abs(twins[0] + twins[1] - 3.0F) < 1e-3F);
    CHECK(twins[0] >= 0.0F);
    CHECK(twins[1] >= 0.0F);
}

TEST_CASE("random problems reach the least residual of all active sets, from any start") {
    for (unsigned seed = 1; seed <= 60; ++seed) {
        CAPTURE(seed);
        const auto p = random_problem(20, 2 + seed % 6, seed % 2 == 0, seed);
        const double best = best_by_trying_all(p);
        for (const float start : {0.0F, 1.0F}) {
            const auto x = solve(p.gram, p.target, Vector(p.columns, start));
            const double reached = residual(p, {x.begin(), x.end()});
            CHECK(reached <= best * (1.0 + 1e-4) + 1e-6);
        }
    }
}

TEST_CASE("Kuhn-Tucker: no weight is negative, no slope at 0 points inside, at free weights the slope is 0") {
    for (unsigned seed = 1; seed <= 40; ++seed) {
        CAPTURE(seed);
        const auto p = random_problem(80, 24, seed % 2 == 0, seed);  // 24: the most that the note bank fits at once
        const auto x = solve(p.gram, p.target);
        float largest = 0.0F;
        for (const float t : p.target) largest = std::max(largest, std::abs(t));
        for (std::size_t i = 0; i < p.columns; ++i) {
            double slope = p.target[i];
            for (std::size_t j = 0; j < p.columns; ++j) slope -= static_cast<double>(p.gram[i * p.columns + j]) * x[j];
            CHECK(x[i] >= 0.0F);
            CHECK(slope <= 0.004 * largest);
            if (x[i] > 0.0F) CHECK(std::abs(slope) <= 0.004 * largest);
        }
    }
}
