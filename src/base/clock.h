// Time as an interface, so that tests can bring their own.
#pragma once

#include <chrono>

namespace gripline {

/// Seconds that only ever grow, from any starting point.
class Clock {
public:
    virtual ~Clock() = default;
    [[nodiscard]] virtual double now_s() const noexcept = 0;
};

/// The machine's steady clock.
class SteadyClock final : public Clock {
public:
    [[nodiscard]] double now_s() const noexcept override {
        return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
    }
};

}  // namespace gripline
