// How finely a sweep goes: every step as a rule, fewer under a sanitizer, which is ten times slower and looks for other faults.
#pragma once

#include <cstddef>

namespace gripline::test {

#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
inline constexpr bool kSanitized = true;
#else
inline constexpr bool kSanitized = false;
#endif

/// Steps of a sweep of notes, keys, seeds; of a sweep of every byte of a file (a prime, so that both kinds of changed bytes come up).
inline constexpr int kSweepStep = kSanitized ? 5 : 1;
inline constexpr std::size_t kByteStep = kSanitized ? 53 : 1;

}  // namespace gripline::test
