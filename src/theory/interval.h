// Intervals above a root, written as degrees of the major scale: "b3", "5", "bb7", "#11".
#pragma once

#include <compare>
#include <string>
#include <string_view>

#include "base/result.h"

namespace gripline {

/// An interval upwards: its number (1 = unison, 3 = third, 9 = ninth; 1 to 15) and its size in semitones.
class Interval {
public:
    constexpr Interval() = default;  ///< unison
    /// number 1 to 15, alteration in semitones against the major scale: (3, -1) is a minor third.
    static constexpr Interval degree(int number, int alteration = 0) { return {number, major_semitones(number) + alteration}; }
    /// Reads a degree: "b3", "5", "bb7", "#11" (also with Unicode signs). Numbers 1 to 15, at most two accidentals.
    static Result<Interval> parse(std::string_view degree);
    [[nodiscard]] constexpr int number() const noexcept { return number_; }
    [[nodiscard]] constexpr int semitones() const noexcept { return semitones_; }
    /// Semitones against the major scale's degree of the same number; - is flat.
    [[nodiscard]] constexpr int alteration() const noexcept { return semitones_ - major_semitones(number_); }
    /// "b3", "5", "bb7".
    [[nodiscard]] std::string degree_text() const;
    /// "minor third", "perfect fifth", "diminished seventh", "augmented eleventh".
    [[nodiscard]] std::string name() const;
    friend constexpr auto operator<=>(Interval, Interval) = default;

private:
    constexpr Interval(int number, int semitones) : number_(number), semitones_(semitones) {}
    static constexpr int major_semitones(int number) {
        constexpr int kMajor[7] = {0, 2, 4, 5, 7, 9, 11};
        return kMajor[(number - 1) % 7] + 12 * ((number - 1) / 7);
    }
    int number_ = 1;
    int semitones_ = 0;
};

}  // namespace gripline
