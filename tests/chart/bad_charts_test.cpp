// Charts that can't be read, each with the message that says where and why.
#include <doctest/doctest.h>

#include "chart/chart_text.h"

using namespace gripline;

TEST_CASE("bad charts are refused with line, bar and beat") {
    struct Row {
        std::string text;
        std::string message;  // its beginning
    };
    const Row rows[] = {
        {"", "the chart has no bars"},
        {"title: x\n", "the chart has no bars"},
        {"\n| C7 | F7 Cmja7 |", "line 2, bar 2, beat 3: unknown quality \"mja7\" in \"Cmja7\""},
        {"| H7 |", "line 1, bar 1, beat 1: "},
        {"| C7 |  | F7 |", "line 1, bar 2, beat 1: the bar is empty"},
        {"| C D E F G |", "line 1, bar 1, beat 5: 5 chords in a bar of 4 counts (4/4)"},
        {"meter: 3/4\n| C / |", "line 2, bar 1, beat 3: with slashes every count is written: 3 in 3/4, here 2"},
        {"| % |", "line 1, bar 1, beat 1: % repeats the bar before, but there is none"},
        {"| C | 3/4 % |", "line 1, bar 2, beat 1: % can't repeat a bar of 4/4 in 3/4"},
        {"| / / C / |", "line 1, bar 1, beat 1: a slash holds the chord before"},
        {"| C | 7/8 F |", "line 1, bar 2, beat 1: unknown meter \"7/8\"; meters are 4/4, 3/4, 2/2, 5/4 and 6/8"},
        {"meter: 9/8\n| C |", "line 1, unknown meter"},
        {"|: C |1 F :|2. G |", "line 1, bar 2: an ending is written with a point: |1. "},
        {"|: C |[1] F :|2. G |", "line 1, bar 2, beat 1: \"[1]\" stands for an ending? It is written behind the bar line, with a point: |1. "},
        {"| C | F | %% | G |", "line 1, bar 3, beat 1: \"%%\" would repeat two bars; here every bar is repeated by itself"},
        {"meter: 7/4\n| C |", "line 1, unknown meter \"7/4\"; meters are 4/4, 3/4, 2/2, 5/4 and 6/8"},
        {"key: H\n| C |", "line 1, unknown key"},
        {"tempo: 20\n| C |", "line 1, unknown tempo \"20\"; a tempo is 40 to 300"},
        {"tempo: nan\n| C |", "line 1, unknown tempo"},
        {"swing: yes\n| C |", "line 1, unknown heading \"swing\"; headings are title, key, meter, tempo"},
        {"| C |\nkey: F\n", "line 2, the heading \"key\" comes after bars"},
        {"hello\n| C |", "line 1, \"hello\" is neither a heading"},
        {"[A]\n[B]\n| C |", "line 2, section \"A\" has no bars"},
        {"| C |\n[A]\n", "section \"A\" has no bars"},
        {"[a very long name]\n| C |", "line 1, section \"a very long name\" is too long"},
        {"|: C | F |", "bar 1: the repeat that opens here never closes"},
        {"|: C |: F :|", "bar 2: a repeat opens inside the repeat that opened in bar 1"},
        {":| C |", "line 1, bar 1: a row can't begin with the end of a repeat"},
        {"| C |:", "line 1, bar 2: a repeat opens at the end of the row"},
        {"|: C |1. F :| G |", "bar 2: a first ending without a second"},
        {"|: C |1. F :|3. G |", "bar 3: ending 3, but ending 2 is expected"},
        {"|: C |1. F |2. G |", "bar 2: this ending never closes"},
        {"|: C |1,. F :|2. G |", "line 1, bar 2: unknown ending \"1,.\""},
        {"|: C | F |0. G :|", "line 1, bar 3: unknown ending \"0.\""},
        {"| C | x1", "line 1, bar 2: a part is played x2 to x99 times, not x1"},
        {"| C | x100", "line 1, bar 2: a part is played x2 to x99 times"},
        {"| x3 |", "line 1, bar 1: x3 stands behind the bars that it repeats"},
        {"|: C :| F | x2", "line 1, bar 3: x2 repeats the whole row, but the row has repeat signs of its own"},
        {"| C |::| F |", "line 1, bar 2: unknown bar line"},
        {"| G7{Dm6 |", "line 1, bar 1, beat 1: the scale in \"G7{Dm6\" never closes"},
        {"| G7{Dm9} |", "line 1, bar 1, beat 1: unknown scale \"Dm9\""},
        {"| G7{} |", "line 1, bar 1, beat 1: unknown scale \"\""},
        {std::string("| C\x01 |"), "line 1, a control character"},
        {std::string("| C\0 |", 6), "line 1, a control character"},
        {"title: a\xC2\x9B" "31m\n| C |", "line 1, a control character"},
        {std::string(2000000, ' '), "the chart is 2000000 bytes long, at most 1048576"},
    };
    for (const Row& row : rows) {
        CAPTURE(row.text.substr(0, 60));
        const auto chart = parse_chart(row.text);
        REQUIRE_FALSE(chart);
        CHECK_MESSAGE(chart.error().message.starts_with(row.message), chart.error().message);
    }
}

TEST_CASE("repeats can't make a chart longer than the bound") {
    std::string row = "|";
    for (int i = 0; i < 200; ++i) row += " C |";
    const auto chart = parse_chart(row + " x99\n");
    REQUIRE_FALSE(chart);
    CHECK(chart.error().message.starts_with("more than 16384 bars with all repeats"));
}
