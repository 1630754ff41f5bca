// The search against trying every line: charts of up to six beats over a reduced neck.
#include <algorithm>
#include <limits>
#include <tuple>

#include "lines/line_fixture.h"
#include "lines/search.h"

using namespace gripline;
using namespace gripline::testing;

namespace {

struct Best {
    int broken = std::numeric_limits<int>::max();
    std::int64_t hundredths = 0;
    void take(const Score& score) {
        if (std::tie(score.broken, score.hundredths) < std::tie(broken, hundredths)) broken = score.broken, hundredths = score.hundredths;
    }
};

/// The best of all lines, and for every beat the best of those whose grip there is not the one chosen.
struct Exhaustive {
    const Problem& problem;
    const std::vector<int>& chosen;
    Best best;
    std::vector<Best> others;
    std::uint64_t lines = 0;
    std::vector<int> trying;

    Exhaustive(const Problem& of, const std::vector<int>& answer) : problem(of), chosen(answer), others(answer.size()) { try_from(0); }

    void try_from(int slot) {
        if (slot == problem.size()) {
            const Score scored = score(problem, trying);
            if (!scored.possible) return;
            ++lines;
            best.take(scored);
            for (std::size_t i = 0; i < trying.size(); ++i)
                if (problem.candidate(static_cast<int>(i), trying[i]).grip != problem.candidate(static_cast<int>(i), chosen[i]).grip) others[i].take(scored);
            return;
        }
        for (int each = 0; each < static_cast<int>(problem.at(slot).all.size()); ++each) {
            trying.push_back(each);
            try_from(slot + 1);
            trying.pop_back();
        }
    }
};

LineSettings reduced(int lowest, int highest) {
    LineSettings settings;
    settings.sets.pop_back();
    settings.neck.lowest_fret = lowest;
    settings.neck.highest_fret = highest;
    return settings;
}

void check_optimal(const char* text, const LineSettings& settings, bool seconds_too = true) {
    CAPTURE(text);
    const Chart over = chart(text);
    const auto problem = pose(over, settings);
    if (!problem) FAIL(problem.error().message);
    REQUIRE(problem->size() <= 6);
    const Path path = shortest_path(*problem, {}, true);
    const Score found = score(*problem, path.chosen);
    CHECK(found.possible);
    const Exhaustive all(*problem, path.chosen);
    CHECK(all.lines > 0);
    CHECK(found.broken == all.best.broken);
    CHECK(found.hundredths == all.best.hundredths);
    for (std::size_t i = 0; seconds_too && i < path.chosen.size(); ++i) {
        if (all.others[i].broken != all.best.broken) continue;  // another grip would break more rules
        REQUIRE(path.seconds[i].chosen >= 0);
        CHECK(path.seconds[i].hundredths == all.others[i].hundredths - all.best.hundredths);
    }
}

}  // namespace

TEST_CASE("the line found costs what the best of all lines costs, and so does the second best on every beat") {
    check_optimal("| C7 |", reduced(0, 9));
    check_optimal("| C7 | F7 N.C. |", reduced(0, 6));
    check_optimal("meter: 3/4\n| C7 | F7 |", reduced(0, 6));
    check_optimal("meter: 3/4\n| Cm6 | % |", reduced(3, 9));
    check_optimal("meter: 3/4\n| C6 | Bdim7 |", reduced(0, 7));
    check_optimal("meter: 3/4\n| G7{Dm6} C6 | Fm7 |", reduced(2, 7));
    check_optimal("meter: 6/8\n| Bb6 G7 |", reduced(0, 7));
    check_optimal("meter: 5/4\n| D7b5 |", reduced(0, 8));
    check_optimal("| Dm7 G7 | N.C. C6 |", reduced(0, 6));
    check_optimal("meter: 3/4\n| C7/E | F7/C |", reduced(0, 6));
}

TEST_CASE("it is the best for every wish") {
    for (const auto side : {ApproachSide::below, ApproachSide::above, ApproachSide::alternating}) {
        LineSettings settings = reduced(0, 6);
        settings.approach = side;
        check_optimal("| C7 | F7 N.C. |", settings);
        settings.direction = Direction::up;
        check_optimal("meter: 3/4\n| C7 | Bb6 |", settings);
        settings.direction = Direction::down;
        settings.quality = ApproachQuality::dominant;
        check_optimal("meter: 3/4\n| C7 | Am7 |", settings);
    }
    LineSettings bars = reduced(0, 7);
    bars.steps = Steps::two;
    bars.costs = *bars.costs.with("repeated-bar=9,turn=0,strong-beat=0");
    check_optimal("| C7 | % | % |", bars);
    LineSettings locked = reduced(0, 6);
    locked.locked = {{1, 3, *Grip::parse("3x23xx")}, {2, 1, *Grip::parse("1x12xx")}};
    check_optimal("| C7 | F7 N.C. |", locked);
    LineSettings stranger = reduced(0, 6);
    stranger.locked = {{1, 2, *Grip::parse("x3x555")}};
    check_optimal("| C7 | F7 N.C. |", stranger);
}

TEST_CASE("a line that comes again is the best of all that lead back to their first grip, also where rules must break") {
    for (const auto side : {ApproachSide::best, ApproachSide::below, ApproachSide::alternating}) {
        LineSettings settings = reduced(0, 6);
        settings.comes_again = true;
        settings.approach = side;
        check_optimal("| C7 |", settings);
        check_optimal("meter: 3/4\n| C7 | F7 |", settings);
        check_optimal("| C7 | F7 N.C. |", settings);
        check_optimal("meter: 3/4\n| Cm6 | Bb6 C6 |", settings);
        settings.neck.lowest_fret = 2;
        settings.neck.highest_fret = 5;
        check_optimal("meter: 3/4\n| C7 | F7 |", settings);
        settings.locked = {{1, 1, *Grip::parse("3x23xx")}};
        check_optimal("meter: 3/4\n| C7 | F7 |", settings);
    }
    LineSettings one = reduced(0, 9);
    one.comes_again = true;
    one.steps = Steps::one;
    check_optimal("| C7 |", one);
    check_optimal("| C7 | F7 |", one);
}

TEST_CASE("where the neck leaves too little, the line breaks as few rules as any line must") {
    for (const int highest : {3, 4, 5}) {
        LineSettings settings = reduced(highest - 3, highest);
        check_optimal("meter: 3/4\n| C7 | F7 |", settings);
        settings.approach = ApproachSide::below;
        check_optimal("meter: 3/4\n| C7 | F7 |", settings);
        check_optimal("| C7 | F7 N.C. |", settings);
    }
}
