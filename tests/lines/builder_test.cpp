// Locks, alternatives, seeds, explanations, remarks, and what is refused.
#include <algorithm>

#include "chart/chart_library.h"
#include "lines/line_fixture.h"

using namespace gripline;
using namespace gripline::testing;

namespace {

Grip grip(const char* text) { return *Grip::parse(text); }

double share_different(const Line& a, const Line& b) {
    double other = 0;
    for (std::size_t i = 0; i < a.beats.size(); ++i) other += a.beats[i].grip != b.beats[i].grip;
    return other / static_cast<double>(a.beats.size());
}

}  // namespace

TEST_CASE("a locked beat stays and the rest is solved around it; a locked target is approached by its own slid grip") {
    LineSettings settings;
    settings.locked = {{2, 1, grip("8x78xx")}, {1, 2, grip("x3x55x")}};
    const Line walked = line(chart("| C7 | F7 | Bb7 |"), settings);
    CHECK(walked.beats[4].grip == grip("8x78xx"));
    CHECK(walked.beats[4].locked);
    CHECK(walked.beats[4].role == Sounds::chord);
    CHECK((walked.beats[3].grip == grip("7x67xx") || walked.beats[3].grip == grip("9x89xx")));
    CHECK(walked.beats[1].grip == grip("x3x55x"));
    CHECK(walked.broken == 0);
}

TEST_CASE("five alternatives differ from each other in a quarter of their beats, the best one first, and all keep the rules") {
    for (const char* name : {"blues", "slate-roofs", "turnaround-dominants"}) {
        CAPTURE(name);
        const auto lines = *build_lines(*library_chart(name), {}, 5);
        REQUIRE(lines.size() == 5);
        for (std::size_t a = 0; a < lines.size(); ++a) {
            CHECK(lines[a].broken == 0);
            CHECK(lines[a].hundredths >= lines[0].hundredths);
            for (std::size_t b = 0; b < a; ++b) CHECK(share_different(lines[a], lines[b]) >= 0.25);
        }
    }
}

TEST_CASE("where everything is locked there is one line only") {
    LineSettings settings;
    settings.locked = {{1, 1, grip("8x89xx")}, {1, 2, grip("10-x-9-10-x-x")}, {1, 3, grip("8x89xx")}, {1, 4, grip("7x67xx")}};
    CHECK(build_lines(chart("| C7 |"), settings, 5)->size() == 1);
}

TEST_CASE("a seed decides between lines of equal cost, and gives the same line every time") {
    int others = 0;
    for (const char* name : {"blues", "ferry-at-noon", "slate-roofs", "cycle-of-dominants"}) {
        const Chart over = *library_chart(name);
        LineSettings settings;
        const Line first = line(over, settings);
        CHECK(share_different(first, line(over, settings)) == 0.0);
        for (settings.seed = 1; settings.seed < 10; ++settings.seed) {
            const Line seeded = line(over, settings);
            CHECK(seeded.hundredths == first.hundredths);
            others += share_different(first, seeded) > 0.0;
        }
    }
    CHECK(others > 0);
}

TEST_CASE("an explained line names its costs and a second best that is never cheaper") {
    const Line explained = line(*library_chart("blues"), {}, true);
    CHECK(std::any_of(explained.beats.begin(), explained.beats.end(), [](const LineBeat& beat) { return beat.costs.text().find("hand-travel 1") != std::string::npos; }));
    for (const LineBeat& beat : explained.beats) {
        REQUIRE(beat.second);
        CHECK(*beat.second != beat.grip);
        CHECK(beat.second_hundredths >= 0);
    }
    CHECK_FALSE(line(*library_chart("blues")).beats[0].second);
}

TEST_CASE("the scale of a chord can be chosen, in the chart or for all such chords") {
    CHECK(line(chart("| G7{Dm6} |")).beats[0].scale.text() == "D minor sixth");
    LineSettings settings;
    settings.scales = {{"G7", *ChosenScale::parse("G7b5")}};
    CHECK(line(chart("| G7 | C6 |"), settings).beats[0].scale.text() == "G seventh flat five");
    CHECK(line(chart("| G7 |")).beats[0].scale.text() == "G dominant seventh");
    CHECK(line(chart("| Am7 |")).beats[0].scale.text() == "C major sixth");
}

TEST_CASE("a dominant approach into a sixth chord is a dominant whose bass leads by a semitone") {
    LineSettings settings;
    settings.quality = ApproachQuality::dominant;
    for (const char* text : {"| C6 | Am7 | Fm6 | Cmaj7 |", "| Dm7 G7 | C6 |"}) {
        const Line walked = line(chart(text), settings);
        CHECK(walked.broken == 0);
        for (std::size_t i = 0; i < walked.beats.size(); ++i) {
            const LineBeat& beat = walked.beats[i];
            if (beat.role != Sounds::approach) continue;
            const LineBeat& target = walked.beats[i + 1];
            CHECK(beat.sounds.ends_with("7"));
            const int side = *beat.from == From::below ? -1 : 1;
            CHECK(beat.notes[0].midi().number() == target.notes[0].midi().number() + side);
            const auto root = parse_chart_symbol(beat.sounds)->root.pitch_class();
            CHECK(root == parse_chart_symbol(target.chord)->root.pitch_class().up(side));
        }
    }
}

TEST_CASE("the approach into F7 is E7 from below or Gb7 from above") {
    LineSettings settings;
    settings.approach = ApproachSide::below;
    CHECK(line(chart("| C7 | F7 |"), settings).beats[3].sounds == "E7");
    settings.approach = ApproachSide::above;
    CHECK(line(chart("| C7 | F7 |"), settings).beats[3].sounds == "Gb7");
}

TEST_CASE("a beat is called what a player calls it: the chart's symbol, the diminished chord, the target's symbol a semitone away") {
    LineSettings settings;
    const auto called = [&](const char* text, std::size_t beat) { return line(chart(text), settings).beats[beat].called; };
    settings.approach = ApproachSide::below;
    CHECK(called("| F7 | Cm7 |", 3) == "Bm7");
    CHECK(called("| F7 | Cm7 |", 4) == "Cm7");
    CHECK(called("| F7 | F#m7b5 |", 3) == "Fm7b5");
    CHECK(called("| F7 | C7b9/E |", 3) == "B7b9");
    CHECK(called("| F7 | C7b9/E |", 4) == "C7b9");
    CHECK(called("| C7 N.C. |", 1) == "Bdim7");
    settings.approach = ApproachSide::above;
    CHECK(called("| F7 | Gm7 |", 3) == "Abm7");
    settings.quality = ApproachQuality::dominant;
    CHECK(called("| F7 | Gm7 |", 3) == "Ab7");
}

TEST_CASE("a rule that the neck forces open is said on its beat") {
    LineSettings settings;
    settings.neck.lowest_fret = 1;
    settings.neck.highest_fret = 3;
    settings.sets.pop_back();
    const Line walked = line(chart("| C7 | F7 |"), settings);
    CHECK(walked.broken > 0);
    const auto said = std::count_if(walked.beats.begin(), walked.beats.end(), [](const LineBeat& beat) { return !beat.remark.empty(); });
    CHECK(said > 0);
    CHECK(said <= walked.broken);
}

TEST_CASE("what can't be built is refused with place and limit") {
    const auto refused = [](const LineSettings& settings, const char* text = "| C7 | F7 |", int count = 1) {
        const auto built = build_lines(chart(text), settings, count);
        REQUIRE_FALSE(built);
        return built.error().message;
    };
    LineSettings settings;
    settings.neck.lowest_fret = settings.neck.highest_fret = 18;
    CHECK(refused(settings).find("bar 1, beat 1: no grip of C dominant seventh") != std::string::npos);
    settings = {};
    settings.neck.capo = 13;
    CHECK(refused(settings) == "capo fret 13 is out of range; it may be 0 to 12");
    settings = {};
    settings.sets = {*StringSet::parse("4-3-2")};
    CHECK(refused(settings).find("shell does not lie on strings 4-3-2") != std::string::npos);
    settings = {};
    settings.sets.clear();
    CHECK(refused(settings) == "a line needs a string set, such as 6-4-3");
    settings = {};
    settings.locked = {{3, 1, grip("8x89xx")}};
    CHECK(refused(settings) == "locked beat 3.1: the line has no step there (bars as played, from 1)");
    settings.locked = {{1, 1, grip("xxxxxx")}};
    CHECK(refused(settings) == "locked beat 1.1: xxxxxx sounds nothing");
    settings.locked = {{1, 1, *Grip::parse("8x89", 4)}};
    CHECK(refused(settings) == "locked beat 1.1: 8x89 is not for 6 strings");
    settings = {};
    settings.region_low = 10;
    settings.region_high = 5;
    CHECK(refused(settings) == "the wanted part of the neck, frets 10 to 5, is out of range; it may be 0 to 24");
    settings = {};
    settings.scales = {{"D9", *ChosenScale::parse("D7")}};
    CHECK(refused(settings) == "a scale is chosen for D9, but the chart has no D9; its chords are C7, F7");
    CHECK(refused({}, "| N.C. |") == "the chart holds no chord to walk on");
    CHECK(refused({}, "| C7 |", 21) == "21 lines are asked; it may be 1 to 20");
}
