// How practice goes: the running totals put together as a player reads them.
#pragma once

#include <array>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "practice/history_totals.h"
#include "practice/statistics_fit.h"
#include "practice/statistics_rate.h"
#include "practice/statistics_tally.h"

namespace gripline {

/// What a page of progress starts from.
struct ProgressSource {
    std::string player;
    std::int64_t today = 0;  ///< days since 1970-01-01 by the player's clock
    std::vector<SkillTally> totals;   ///< over all days
    std::vector<SkillTally> weeks;    ///< the last kWeeksShown of them; `day` is the Monday
    std::vector<FaultTally> faults;
    std::vector<TempoTally> tempos;
    std::vector<AnswerTally> answers;  ///< to name-it questions
};
inline constexpr int kWeeksShown = 26;
/// From the history; a player that it does not know has no attempts.
[[nodiscard]] Result<ProgressSource> read_progress(History& history, const std::string& player, std::int64_t today);

/// What is kept on this machine, up to today by the clock on the wall.
struct KeptProgress {
    ProgressSource source;
    std::string notice;  ///< of the history; empty when all is well
};
/// Of the player named; with an empty name of whoever practised last. file: of the history; empty: there is no place for one. An error when nothing was kept
/// or it can't be read.
[[nodiscard]] Result<KeptProgress> read_kept_progress(const std::string& named, const std::filesystem::path& file);

/// Columns of the table: what a step is in the line.
enum class ProgressColumn { chord, passing, below, above };
inline constexpr std::size_t kProgressColumns = 4;
/// "chord", "passing", "from below", "from above".
[[nodiscard]] std::string_view word(ProgressColumn column) noexcept;
[[nodiscard]] ProgressColumn column_of(const Skill& skill) noexcept;

/// A part of the skills; what is not set binds nothing.
struct ProgressPart {
    std::optional<std::string> quality;
    std::optional<ProgressColumn> column;
    std::optional<PitchClass> key;
    [[nodiscard]] bool holds(const Skill& skill) const;
    /// "7, from above, key Bb"; "everything".
    [[nodiscard]] std::string text() const;
};

/// One cell. Rates count first tries without help only: a grip that was shown says little.
struct ProgressCell {
    RateCount count;
    std::int64_t last_ms = 0;  ///< 0: never
};

struct ProgressRow {
    std::string quality;
    std::array<ProgressCell, kProgressColumns> cells;
};

/// What a string was heard to do instead of what was asked, by the likeliest fault of each attempt.
inline constexpr int kFretsOffShown = 3;
struct StringFaults {
    int string = 0;  ///< 1 to 7
    std::array<std::int64_t, 2 * kFretsOffShown + 1> by_frets{};  ///< index 0: three frets flat or more, 3: right note (always 0), 6: three sharp or more
    std::int64_t missing = 0;  ///< asked, and did not sound
    std::int64_t extra = 0;    ///< sounded unasked
    [[nodiscard]] std::int64_t sum() const noexcept;
};

/// How fast a quality at a place in the line goes, by the answers in time: first tries without help.
struct ProgressTempo {
    std::string quality;
    ProgressColumn column = ProgressColumn::chord;
    RateCount in_time;                  ///< at any tempo
    int fastest_bpm = 0;                ///< that was tried
    std::optional<TempoCount> reached;  ///< see tempo_reached
    /// "7, from above: 120 a minute (58 of 60 right at that or faster, 89 to 99 %)", "...: none for sure yet (5 answers, fastest at 100)".
    [[nodiscard]] std::string text() const;
};

/// How a question of name-it is answered.
struct ProgressQuestion {
    std::string question;     ///< "quality", "bass degree", "approach direction"
    RateCount count;
    std::vector<AnswerTally> mixed_up;  ///< wrong answers, the commonest first
    /// "quality: 75 % of 20 (53 to 89 %); m6 called 6: 4 times".
    [[nodiscard]] std::string text() const;
};

/// A part of the skills, counted.
struct Progress {
    std::string player;
    std::int64_t today = 0;
    ProgressPart part;
    std::vector<ProgressRow> rows;            ///< by quality, most asked first
    std::array<ProgressCell, 12> keys;        ///< index 0 = C
    RateCount all;
    long attempts = 0;                        ///< every try, also second ones and those not heard
    std::vector<WeekCount> weeks;             ///< kWeeksShown of them, this week last
    std::optional<LogisticFit> trend;         ///< over these weeks; x is the week
    std::string no_trend;                     ///< why there is none
    RateCount this_week, last_week;
    std::optional<double> answer_s;           ///< geometric mean
    double most_tempo_bpm = 0.0;              ///< at which one was right; 0: none
    std::vector<StringFaults> strings;        ///< lowest string first; only those with faults
    std::vector<ProgressTempo> tempos;        ///< of each quality and place that was asked in time, the quality asked most first
    std::vector<ProgressQuestion> questions;  ///< of name-it, the one asked most first; of everything alone, for answers are not counted by skill
    std::vector<std::string> faults;          ///< the commonest, in words: "string 4, one fret flat: 9"; three at most
};
[[nodiscard]] Progress count_progress(const ProgressSource& source, const ProgressPart& part);

/// The part of it that counts name-it's answers.
[[nodiscard]] std::vector<ProgressQuestion> questions_answered(const ProgressSource& source);

/// The part of it that counts tempos; `rows` and `part` are filled already.
[[nodiscard]] std::vector<ProgressTempo> tempos_reached(const ProgressSource& source, const Progress& progress);

/// "better than last week", "worse than last week", "no clear change since last week", "too few to compare".
[[nodiscard]] std::string_view week_words(const Progress& progress) noexcept;

/// A piece of ten minutes.
struct PlanItem {
    int minutes = 0;
    ProgressPart part;
    std::string words;  ///< "4 min: 7 from above: weak, 40 % of 20 (22 to 61 %)"
};
/// What to do today, ten minutes: something sure to warm up, then what is weak, what has waited long, what is new. Empty only when nothing
/// was ever asked.
[[nodiscard]] std::vector<PlanItem> plan_today(const ProgressSource& source);

/// "2026-11-25"
[[nodiscard]] std::string date_text(std::int64_t day);

}  // namespace gripline
