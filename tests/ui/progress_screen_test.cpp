#include <doctest/doctest.h>

#include "support/progress_source.h"
#include "ui/golden.h"
#include "ui/progress_app.h"

using namespace gripline;
using namespace gripline::test;

namespace {

std::string drawn(const ProgressRun& run, int columns, int rows, CharacterSet characters = CharacterSet::utf8) {
    Canvas canvas(columns, rows, characters);
    run.draw(canvas);
    return canvas.text();
}

}  // namespace

TEST_CASE("Progress at three sizes: rates as numbers, weak keys dense, the plan where there is room") {
    const ProgressRun run(planted_source(), "");
    for (const auto& [columns, rows] : {std::pair(80, 24), std::pair(120, 40), std::pair(40, 12)}) {
        const std::string text = drawn(run, columns, rows);
        CAPTURE(columns);
        CHECK(text.find("player A") != std::string::npos);
        CHECK(text.find("██") != std::string::npos);
        test::check_golden("progress-" + std::to_string(columns) + "x" + std::to_string(rows), text);
    }
    CHECK(drawn(run, 80, 24).find("Today, ten minutes") != std::string::npos);
    test::check_golden("progress-80x24-ascii", drawn(run, 80, 24, CharacterSet::ascii));
    for (const char c : drawn(run, 80, 24, CharacterSet::ascii)) CHECK((c == '\n' || (c >= 32 && c <= 126)));
}

TEST_CASE("The mark moves over table and keys; enter looks closer and escape goes back to where it stood") {
    ProgressRun run(planted_source(), "");
    for (int i = 0; i < 9; ++i) CHECK(run.press({0, SpecialKey::right}));
    CHECK(run.view().mark.column == 3);
    CHECK(run.press({0, SpecialKey::enter}));
    CHECK(run.view().progress.part.text() == "7, from above");
    test::check_golden("progress-part-80x24", drawn(run, 80, 24));
    for (int i = 0; i < 3; ++i) CHECK(run.press({0, SpecialKey::down}));
    CHECK(run.view().mark.on_keys);
    while (key_at(run.view().mark.column) != PitchClass(4)) CHECK(run.press({0, SpecialKey::right}));
    CHECK(run.press({0, SpecialKey::enter}));
    CHECK(run.view().progress.part.text() == "7, from above, key E");
    CHECK(drawn(run, 80, 24).find("string 4, one fret flat: 21") != std::string::npos);
    CHECK(run.press({0, SpecialKey::escape}));
    CHECK(run.press({0, SpecialKey::escape}));
    CHECK(run.view().progress.part.text() == "everything");
    CHECK(run.view().mark.column == 3);
    CHECK_FALSE(run.press({0, SpecialKey::escape}));
    CHECK_FALSE(run.press({'q', SpecialKey::none}));
}

TEST_CASE("On a small screen the last line says that there is more, and n turns to the trend, the faults and the plan, and back to the tables") {
    ProgressRun run(planted_source(), "");
    const std::string tables = drawn(run, 40, 12);
    CHECK(tables.find("n more") != std::string::npos);
    CHECK(tables.find("Trend") == std::string::npos);
    std::string told;
    int turned = 0;
    for (; turned < 20; ++turned) {
        CHECK(run.press({turned % 2 == 0 ? 'n' : '\0', turned % 2 == 0 ? SpecialKey::none : SpecialKey::page_down}));
        const std::string now = drawn(run, 40, 12);
        if (now == tables) break;
        if (turned < 2) test::check_golden("progress-more-" + std::to_string(turned + 1) + "-40x12", now);
        told += now;
    }
    CHECK(turned < 20);
    CHECK(turned >= 2);
    CHECK(told.find("Trend") != std::string::npos);
    CHECK(told.find("faults: string 4, one fret flat: 21") != std::string::npos);
    CHECK(told.find("Today, ten minutes") != std::string::npos);
    for (const PlanItem& item : run.view().plan) CHECK(told.find(item.words.substr(0, item.words.find(' ', 10))) != std::string::npos);
    CHECK(run.press({'n', SpecialKey::none}));
    CHECK(run.press({0, SpecialKey::escape}));
    CHECK(drawn(run, 40, 12) == tables);
    CHECK(drawn(run, 120, 40).find("n more") == std::string::npos);
}

TEST_CASE("The key f shows strings by frets off and the tempos reached, at three sizes, and goes back") {
    ProgressRun run(planted_source(), "");
    CHECK(run.press({'f', SpecialKey::none}));
    for (const auto& [columns, rows] : {std::pair(80, 24), std::pair(120, 40), std::pair(40, 12)})
        test::check_golden("progress-details-" + std::to_string(columns) + "x" + std::to_string(rows), drawn(run, columns, rows));
    CHECK(drawn(run, 80, 24).find("120 a minute (61 of 65") != std::string::npos);
    for (const char c : drawn(run, 80, 24, CharacterSet::ascii)) CHECK((c == '\n' || (c >= 32 && c <= 126)));
    for (int rows = 0; rows < 42; ++rows) (void)drawn(run, rows * 3, rows);
    CHECK(run.press({0, SpecialKey::escape}));
    CHECK_FALSE(run.view().details);
    CHECK_FALSE(run.press({0, SpecialKey::escape}));
}

TEST_CASE("Progress of nobody, names that would move the cursor, and any size are drawn") {
    ProgressSource source;
    source.player = "a\x1b[2Jb";
    ProgressRun run(source, "");
    for (int i = 0; i < 4; ++i) {
        CHECK(run.press({0, SpecialKey::down}));
        CHECK(run.press({0, SpecialKey::enter}));
    }
    CHECK(drawn(ProgressRun(source, ""), 80, 24).find("Nothing was asked yet.") != std::string::npos);
    const ProgressRun full(planted_source(), "the history is read-only");
    for (int rows = 0; rows < 42; ++rows) (void)drawn(full, rows * 3, rows);
    CHECK(drawn(full, 80, 24).find("read-only") != std::string::npos);
}
