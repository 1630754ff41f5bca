// What is told of many attempts besides the rate: asked against heard, time to answer, tempo reached.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "practice/attempt.h"
#include "practice/statistics_rate.h"

namespace gripline {

/// How far off, in words: "one fret flat", "3 frets sharp", "an octave high".
[[nodiscard]] std::string frets_words(int frets);

/// Asked against heard, string by string. Attempts that were not heard at all, and those without a guitar, are no part of it.
class Confusion {
public:
    /// What became of a string: so many frets off, or not sounding, or sounding though it should not.
    struct Row {
        int string = 0;                    ///< 1 to 7
        RateCount sounded;                 ///< attempts in which it was asked, and those in which no fault named it
        std::map<int, long> off_by_frets;  ///< + is sharp; wrong notes on this string
        long missing = 0;
        long extra = 0;                    ///< of all attempts: asked to be silent, heard
    };

    void add(const Attempt& attempt);
    /// Lowest string (largest number) first; only strings that were asked or heard.
    [[nodiscard]] std::vector<Row> rows() const;
    /// Whole grips that sounded so many frets off.
    [[nodiscard]] const std::map<int, long>& shifted() const noexcept { return shifted_; }
    [[nodiscard]] long attempts() const noexcept { return attempts_; }
    /// The fault that comes most often, in words, when its Wilson interval lies above that of every other: "string 4, one fret
    /// flat: 9 of 40". Nothing while that is not clear or there are fewer than kLeastAttemptsToJudge attempts.
    [[nodiscard]] std::optional<std::string> commonest() const;

private:
    std::map<int, Row> rows_;
    std::map<int, long> shifted_;
    long attempts_ = 0;
};

/// Times from asking to first sound, seconds.
struct AnswerTimes {
    long count = 0;
    double median_s = 0.0, quarter_s = 0.0, three_quarters_s = 0.0;
    std::optional<double> median_low_s, median_high_s;  ///< at least 95 %; nothing below six times
};
/// Quantiles by linear interpolation; the median's interval from order statistics (Conover 1999). Unordered in.
[[nodiscard]] std::optional<AnswerTimes> answer_times(std::vector<double> times_s);

/// Right answers at one tempo.
struct TempoCount {
    double tempo_bpm = 0.0;
    RateCount count;
};
/// The fastest tempo at which, with all attempts at that tempo or faster taken together, the rate surely (lower Wilson bound) stands at
/// kStandingBorder or above; with these attempts. Nothing until there is one.
[[nodiscard]] std::optional<TempoCount> tempo_reached(std::vector<TempoCount> tempos);

}  // namespace gripline
