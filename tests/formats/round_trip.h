// Every chart of the library in twelve keys, and one that holds all that a chart can hold (fixtures/charts/every-sign.chart).
#pragma once

#include <doctest/doctest.h>

#include <fstream>
#include <functional>
#include <iterator>
#include <string>
#include <vector>

#include "chart/chart_library.h"
#include "chart/chart_text.h"

namespace gripline::test {

/// The chord on every count, as played.
inline std::vector<std::string> chord_of_count(const Chart& chart) {
    std::vector<std::string> out;
    const std::vector<int> played = *played_bars(chart);
    for (const int bar : played)
        for (const PlacedChord& chord : chart.bars[static_cast<std::size_t>(bar)].chords)
            for (int count = 0; count < chord.beats; ++count) out.push_back(chord.text());
    return out;
}

/// Calls `check` with every chart of the library in every key, and with every-sign.chart.
inline void with_every_chart(const std::function<void(const Chart&)>& check) {
    for (const LibraryChart& each : chart_library()) {
        const Chart chart = *library_chart(each.name);
        for (const char* key : {"C", "Db", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B"}) {
            CAPTURE(std::string(each.name));
            CAPTURE(std::string(key));
            check(transposed(chart, *NoteName::parse(key)));
        }
    }
    std::ifstream in(GRIPLINE_FIXTURES "/charts/every-sign.chart", std::ios::binary);
    const auto every = parse_chart(std::string{std::istreambuf_iterator<char>(in), {}});
    if (!every) FAIL(every.error().message);
    check(*every);
}

}  // namespace gripline::test
