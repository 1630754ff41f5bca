// How finely a sweep goes: every step as a rule, every fifth under a sanitizer, which is ten times slower and looks for other faults.
#pragma once

namespace gripline::test {

#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
inline constexpr int kSweepStep = 5;
#else
inline constexpr int kSweepStep = 1;
#endif

}  // namespace gripline::test
