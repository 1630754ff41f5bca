// What is walked: the bars of a chart as played, and a grip on each beat of its line, counted from the beginning of the chorus.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "practice/walk_along.h"

namespace gripline {

struct ScoreBar {
    std::string chords{};     ///< "C7", "F7 Bb7", in plain letters; "N.C." for silence
    std::string section{};    ///< its letter when it begins one
    int first_count = 0;      ///< counted from the chorus's first count, 0
    int counts = 4;
    double share = 1.0;       ///< the length of each of its counts, in counts of the tempo: 0.5 for 6/8 in a chart of quarters
    std::vector<int> accents{};  ///< counts from 1 that the click accents: 2 and 4 of four, else the strong ones
    int written_bar = 0;
};

struct ScoreBeat {
    WalkBeat beat;            ///< its at_s is left open
    int count = 0;            ///< from the chorus's first count
    int length_counts = 1;    ///< until the next beat, or a silence
    std::string sounds;       ///< what the grip is called when it is not the chart's chord: "Bdim7", an approach "Bm7"
};

/// A part of the score: bars `first` to `last`, from 1, both within.
struct BarRange {
    int first = 1, last = 1;
    friend bool operator==(const BarRange&, const BarRange&) = default;
};

/// How bars that are played over and over lead back to their first grip, where the line leads on to another.
struct LoopEnd {
    int last_bar = 1;
    ScoreBeat beat;  ///< in place of the line's last beat in them
};

struct WalkScore {
    std::string title;
    double tempo_bpm = 120.0; ///< counts a minute
    std::vector<ScoreBar> bars;   ///< at least one
    std::vector<ScoreBeat> beats; ///< in order of count; at least one
    std::optional<LoopEnd> loop_end{};  ///< of every range that ends with its bar
};

[[nodiscard]] BarRange all_bars(const WalkScore& score) noexcept;
/// Moved into the score: first at most last.
[[nodiscard]] BarRange within(const WalkScore& score, BarRange range) noexcept;
/// "3-6" or "5"; an error names what is allowed.
[[nodiscard]] Result<BarRange> parse_bars(const std::string& text, const WalkScore& score);

/// The score's beat that sounds or is held on a count of the chorus (from 0), within these bars; nothing in a silence.
[[nodiscard]] const ScoreBeat* beat_on(const WalkScore& score, BarRange range, int count) noexcept;
/// The first beat on a count of the chorus or later, within these bars; nothing when there is none.
[[nodiscard]] const ScoreBeat* beat_from(const WalkScore& score, BarRange range, int count) noexcept;
/// The bar that holds a count of the chorus, from 0; the last for counts beyond the end.
[[nodiscard]] const ScoreBar& bar_on(const WalkScore& score, int count) noexcept;
/// Counts from the chorus's first count to the range's first, and the range's length.
[[nodiscard]] int first_count(const WalkScore& score, BarRange range) noexcept;
[[nodiscard]] int counts_of(const WalkScore& score, BarRange range) noexcept;

/// When each count of these bars begins, and behind them their end, in counts of the tempo from the range's first.
[[nodiscard]] std::vector<double> count_places(const WalkScore& score, BarRange range);

/// The beats of these bars with their times: the range's first count lies at start_s.
[[nodiscard]] std::vector<WalkBeat> timed_beats(const WalkScore& score, BarRange range, double start_s, double count_s);

}  // namespace gripline
