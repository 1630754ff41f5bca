// A line: the row of grips over a chart, one a beat, as it is asked, shown and written to files.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "chart/chart.h"
#include "lines/candidate.h"
#include "lines/costs.h"
#include "theory/serving.h"

namespace gripline {

/// "chord", "passing", "approach".
[[nodiscard]] std::string_view word(Sounds sounds) noexcept;
/// "below", "above".
[[nodiscard]] std::string_view word(From from) noexcept;

/// One beat of a line.
struct LineBeat {
    int bar = 1;                      ///< as played, from 1
    int beat = 1;
    int written_bar = 0;              ///< index into Chart::bars
    std::string chord;                ///< the chart's chord on this beat, as written
    Serving scale;                    ///< that serves it
    Grip grip;
    std::vector<SpelledNote> notes;   ///< lowest string first
    Sounds role = Sounds::chord;
    std::string sounds;               ///< what the grip itself is: "C7", "Bdim7", approach "Gb7"
    std::string called;               ///< what a player calls it, without its bass: the chart's symbol, "Bdim7", of a slid approach "Bm7" into Cm7
    std::optional<From> from;         ///< of an approach, unless it was chosen by hand
    std::optional<int> motion;        ///< of the bass from the beat before: 1 up, -1 down, 0 same; nullopt on the first
    bool locked = false;              ///< chosen by hand
    std::string remark;               ///< a rule that the chart or the neck forced open, a written bass that it does not begin over, or empty
    CostItems costs;                  ///< what this beat adds
    std::optional<Grip> second;       ///< explained lines: the best other grip here
    std::int64_t second_hundredths = 0;  ///< and how much dearer the line gets with it
};

/// The whole line.
struct Line {
    std::vector<LineBeat> beats;
    std::int64_t hundredths = 0;   ///< the sum of all costs
    int broken = 0;                ///< rules that had to be broken, each with a remark on its beat
    std::uint64_t joints = 0;      ///< joints that the search weighed
};

}  // namespace gripline
