// Repeats and endings, as in any music dictionary: the bars in the order they are played, counted from 1.
#include <doctest/doctest.h>

#include "chart/chart_text.h"

using namespace gripline;

TEST_CASE("repeats and endings are played in order") {
    struct Row {
        const char* text;
        std::vector<int> played;
    };
    const Row rows[] = {
        {"| C | D | E |", {1, 2, 3}},
        {"|: C | D :| E |", {1, 2, 1, 2, 3}},
        {"| C | D :| E |", {1, 2, 1, 2, 3}},
        {"| C |: D :| E :|", {1, 2, 2, 3, 3}},
        {"|: C :|: D :|", {1, 1, 2, 2}},
        {"|: C :| x3 | D |", {1, 1, 1, 2}},
        {"| C | D | x3\n| E |", {1, 2, 1, 2, 1, 2, 3}},
        {"|: C | D |1. E | F :|2. G | A | B |", {1, 2, 3, 4, 1, 2, 5, 6, 7}},
        {"|: C |1,2. D :|3. E | F |", {1, 2, 1, 2, 1, 3, 4}},
        {"|: C |1. D :|2. E :|3. F | G |", {1, 2, 1, 3, 1, 4, 5}},
        {"|: C |1. D :|2. E |: F :|", {1, 2, 1, 3, 4, 4}},
        {"|: C |1. D :|2. E | F :|", {1, 2, 1, 3, 4}},
    };
    for (const Row& row : rows) {
        CAPTURE(row.text);
        const auto chart = parse_chart(row.text);
        REQUIRE(chart);
        auto played = *played_bars(*chart);
        for (int& bar : played) ++bar;
        CHECK(played == row.played);
    }
}
