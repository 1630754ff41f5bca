// Which strum of a recorded take was meant for which question: a take has noise, talk and tuning before and after, strums too many and too few.
// Pure: what was heard and what was asked in, places out. The judge gives the verdicts afterwards.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <vector>

#include "judge/verdict.h"

namespace gripline {

/// What is remembered of a strum: enough to tell what it may have been, and little enough to keep thousands.
struct StrumSketch {
    std::uint64_t strum = 0;             ///< number in the chain
    double onset_s = 0.0;
    std::array<float, 12> strengths{};   ///< as Verdict; all 0: nothing but noise
    std::optional<PitchClass> bass;
};

/// What a question asks, for comparison.
struct AlignmentTarget {
    std::array<bool, 12> classes{};
    PitchClass bass;
    double at_s = 0.0;                   ///< of a walked question: from the first beat
};
[[nodiscard]] AlignmentTarget alignment_target(const Target& target, double at_s = 0.0);

/// 0 (nothing in common) to 1 (its pitch classes and no others, and its bass). The same one or two frets off counts in part.
[[nodiscard]] double likeness(const StrumSketch& sketch, const AlignmentTarget& target) noexcept;

/// For each target the index of its strum, rising; nullopt: none was meant for it. The assignment with the greatest likeness in all, where a target and a strum
/// left out cost something. Work: targets x strums.
[[nodiscard]] std::vector<std::optional<std::size_t>> align_in_order(const std::vector<AlignmentTarget>& targets, const std::vector<StrumSketch>& strums);

/// Where a walked take begins, and how much slower (above 1) than asked it goes.
struct TimeAlignment {
    double start_s = 0.0;  ///< of the first beat
    double stretch = 1.0;  ///< 0.97 to 1.03
};
/// targets: in time order; count_s: length of a count. nullopt when no strum sounds like any target.
[[nodiscard]] std::optional<TimeAlignment> align_in_time(const std::vector<AlignmentTarget>& targets, const std::vector<StrumSketch>& strums, double count_s);

}  // namespace gripline
