// A clock that stands still until a test moves it.
#pragma once

#include <atomic>

#include "base/clock.h"

namespace gripline::test {

class FakeClock final : public Clock {
public:
    [[nodiscard]] double now_s() const noexcept override { return now_s_.load(); }
    void set(double now_s) noexcept { now_s_.store(now_s); }
    void advance(double seconds) noexcept { now_s_.store(now_s_.load() + seconds); }

private:
    std::atomic<double> now_s_{0.0};
};

}  // namespace gripline::test
