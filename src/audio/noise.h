// Repeatable noise: Marsaglia's xorshift (Journal of Statistical Software 8(14), 2003), 32 bits.
#pragma once

#include <cstdint>

namespace gripline {

class Noise {
public:
    /// The same seed gives the same noise, on every machine.
    explicit constexpr Noise(std::uint32_t seed) noexcept : state_(seed * 2654435761U ^ 0x9E3779B9U) {
        if (state_ == 0) state_ = 1;
        for (int i = 0; i < 4; ++i) bits();
    }
    constexpr std::uint32_t bits() noexcept {
        state_ ^= state_ << 13U;
        state_ ^= state_ >> 17U;
        state_ ^= state_ << 5U;
        return state_;
    }
    /// Even over -1 to 1.
    constexpr float next() noexcept { return static_cast<float>(static_cast<std::int32_t>(bits())) / 2147483648.0F; }
    /// Even over 0 to 1, 1 excluded.
    constexpr double share() noexcept { return bits() / 4294967296.0; }

private:
    std::uint32_t state_;
};

}  // namespace gripline
