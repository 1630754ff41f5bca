// Every chart of the library in twelve keys, and charts that hold all that a chart can hold.
#pragma once

#include <doctest/doctest.h>

#include <functional>
#include <string>
#include <string_view>

#include "chart/chart_library.h"
#include "chart/chart_text.h"

namespace gripline::test {

/// All the signs of a chart: repeats, three kinds of endings, rows, sections, silence, slashes, chosen scales, changes of meter, comments, odd symbols.
inline constexpr std::string_view kEverySign = R"(title: A 100 % <walk> & "more" | Grüße #1
key: F#m
meter: 4/4
tempo: 112.5

# first words of comment
[Intro]
| N.C. | F#m6 / / B7 | % | C#7b9/E# G7#11 |
# above the repeat
# on two lines
[A]
|: F#m6 / / C7 | Bm7{D6} E7 | % |1,2. Amaj7 Am6/9 | 3/4 G#m7b5 C#7alt :|3. 4/4 F#m(maj7) |
| E7sus4 E13 :| x3
[B]
|: D6/9 | Gadd9 Gm7b5/Db :|
|: A :|: A+ Adim7 :| x5 | A7 A7 |
| 5/4 A7 D7 | 6/8 D6 / A7 / / / | % | 2/2 G | % |
# the last words
)";

/// Calls `check` with every chart of the library in every key, and with kEverySign.
inline void with_every_chart(const std::function<void(const Chart&)>& check) {
    for (const LibraryChart& each : chart_library()) {
        const Chart chart = *library_chart(each.name);
        for (const char* key : {"C", "Db", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B"}) {
            CAPTURE(std::string(each.name));
            CAPTURE(std::string(key));
            check(transposed(chart, *NoteName::parse(key)));
        }
    }
    const auto every = parse_chart(kEverySign);
    if (!every) FAIL(every.error().message);
    check(*every);
}

}  // namespace gripline::test
