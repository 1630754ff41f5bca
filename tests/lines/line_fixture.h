// Charts and lines for the tests of this folder.
#pragma once

#include <doctest/doctest.h>

#include <string>

#include "chart/chart_text.h"
#include "lines/walk_builder.h"

namespace gripline::testing {

inline Chart chart(const std::string& text) {
    const auto read = parse_chart(text);
    if (!read) FAIL(read.error().message);
    return *read;
}

inline Line line(const Chart& over, const LineSettings& settings = {}, bool explain = false) {
    const auto built = build_line(over, settings, explain);
    if (!built) FAIL(built.error().message);
    return *built;
}

/// "1.1 chord" for each beat, one row a line: "1.1 c, 1.2 p, 1.4 a".
inline std::string roles(const Line& of) {
    std::string out;
    for (const LineBeat& beat : of.beats)
        out += (out.empty() ? "" : " ") + std::to_string(beat.bar) + "." + std::to_string(beat.beat) + std::string(word(beat.role)).substr(0, 1);
    return out;
}

}  // namespace gripline::testing
