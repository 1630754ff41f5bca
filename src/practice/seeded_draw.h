// Draws that are the same on every machine: no generator or distribution of the standard library, whose results may differ.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string_view>
#include <utility>
#include <vector>

namespace gripline {

/// SplitMix64 (Steele, Lea, Flood: Fast Splittable Pseudorandom Number Generators, OOPSLA 2014). Whole-number arithmetic only.
class SeededDraw {
public:
    explicit constexpr SeededDraw(std::uint64_t seed) noexcept : state_(seed) {}

    [[nodiscard]] constexpr std::uint64_t next() noexcept {
        state_ += 0x9E3779B97F4A7C15ULL;
        std::uint64_t z = state_;
        z = (z ^ (z >> 30U)) * 0xBF58476D1CE4E5B9ULL;
        z = (z ^ (z >> 27U)) * 0x94D049BB133111EBULL;
        return z ^ (z >> 31U);
    }
    /// 0 to n - 1, each equally likely (the few numbers that would favour some are drawn again). n: 1 or more.
    [[nodiscard]] constexpr std::size_t below(std::size_t n) noexcept {
        const std::uint64_t uneven = (0 - std::uint64_t{n}) % n;
        std::uint64_t drawn = next();
        while (drawn < uneven) drawn = next();
        return static_cast<std::size_t>(drawn % n);
    }
    /// Every order equally likely (Fisher and Yates; Durstenfeld, CACM 7, 1964).
    template <class T>
    void shuffle(std::vector<T>& row) noexcept {
        for (std::size_t i = row.size(); i > 1; --i) std::swap(row[i - 1], row[below(i)]);
    }

private:
    std::uint64_t state_;
};

/// FNV-1a, 64 bits (Fowler, Noll, Vo): a number for a text, the same everywhere. No protection against anybody.
[[nodiscard]] constexpr std::uint64_t number_for(std::string_view text) noexcept {
    std::uint64_t hash = 0xCBF29CE484222325ULL;
    for (const char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001B3ULL;
    return hash;
}

}  // namespace gripline
