// Counts heap allocations. Add support/alloc_count.cpp to the test program's sources; it replaces malloc and friends
// (under a sanitizer only operator new, because the sanitizer owns malloc).
#pragma once

#include <cstdint>

namespace gripline::test {

/// Allocations since it was made: `AllocCount count; chain.process(hop); CHECK(count.here() == 0);`
class AllocCount {
public:
    AllocCount() noexcept;
    /// On the thread that calls.
    [[nodiscard]] std::uint64_t here() const noexcept;
    /// On all threads together.
    [[nodiscard]] std::uint64_t everywhere() const noexcept;

private:
    std::uint64_t here_at_start_, everywhere_at_start_;
};

}  // namespace gripline::test
