// Non-negative least squares on a small Gram matrix.
#pragma once

#include <cstddef>
#include <span>

namespace gripline::dsp {

inline constexpr std::size_t kMostUnknowns = 24;

/// Minimises |A x - b|^2 over x >= 0, given `gram` = A'A (row-major, n x n) and `target` = A'b. By cyclic coordinate descent, which converges
/// for any positive semi-definite Gram matrix (Franc, Hlavac & Navara 2005, "Sequential coordinate-wise algorithm for NNLS").
/// Writes n values (n at most kMostUnknowns) to `x` and starts from what stands there.
void solve_non_negative(std::span<const float> gram, std::span<const float> target, std::span<float> x) noexcept;

}  // namespace gripline::dsp
