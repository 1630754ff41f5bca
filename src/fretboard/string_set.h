// String sets ("6-4-3") and the stages of a walking chord that lie on them.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "fretboard/grip.h"

namespace gripline {

/// The stages from scale to walking grips. Line, the fifth, is made of shells over a chart.
enum class StageKind { scale, drop2, drop3, shell };

/// "scale", "drop 2", "drop 3", "shell".
[[nodiscard]] std::string_view name(StageKind kind) noexcept;
/// Reads a name as above; "drop2" and "drop3" also.
[[nodiscard]] Result<StageKind> parse_stage_kind(std::string_view text);

/// Strings that sound together, lowest first: 6-4-3.
class StringSet {
public:
    /// Lowest string (largest number) first, without repeats.
    explicit StringSet(std::vector<StringNumber> low_to_high) : strings_(std::move(low_to_high)) {}
    /// Reads "6-4-3-2", "643", "6 4 3" or "1": string numbers 7 to 1, falling.
    static Result<StringSet> parse(std::string_view text);
    [[nodiscard]] const std::vector<StringNumber>& strings() const noexcept { return strings_; }
    [[nodiscard]] StringNumber lowest() const { return strings_.front(); }
    [[nodiscard]] std::string text() const;
    friend bool operator==(const StringSet&, const StringSet&) = default;

private:
    std::vector<StringNumber> strings_;
};

/// The sets on which a stage lies on a guitar of that many strings, the usual one first. Drop 2: four neighbours (4-3-2-1 first);
/// drop 3: one string skipped above the bass (6-4-3-2 first); shell: drop 3 without its highest string (6-4-3 first); scale: single
/// strings (1 first).
[[nodiscard]] std::vector<StringSet> string_sets(StageKind kind, int strings = 6);
/// An error naming the sets that would do, when the stage does not lie on `set`.
[[nodiscard]] Result<StringSet> checked(const StringSet& set, StageKind kind, int strings);

}  // namespace gripline
