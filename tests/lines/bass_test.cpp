// Over which bass a chord begins: the one behind its slash, else rather its root; and what is said where the written one can't be had.
#include "chart/chart_library.h"
#include "lines/line_fixture.h"

using namespace gripline;
using namespace gripline::testing;

namespace {

/// Bass and remark of the first beat of each chord: "E, C, D (begins over ...)".
std::string begins(const Line& of) {
    std::string out;
    for (std::size_t i = 0; i < of.beats.size(); ++i) {
        const LineBeat& beat = of.beats[i];
        if (i > 0 && of.beats[i - 1].chord == beat.chord) continue;
        out += (out.empty() ? "" : ", ") + beat.notes.front().name.text() + (beat.remark.empty() ? "" : " (" + beat.remark + ")");
    }
    return out;
}

}  // namespace

TEST_CASE("a chord begins over the bass behind its slash wherever the scale's chord holds it") {
    CHECK(begins(line(chart("| C/E | F7/A | Cm7/Bb | Dm7/C |"))) == "E, A, Bb, C");
    CHECK(begins(line(chart("| C7b9/E | Am7/G | Bm7b5/A | C7/Bb | Bb6/D |"))) == "Fb, G, A, Bb, D");
    CHECK(begins(line(chart("| Cm6/G Cm6/Eb | G7/B G7/D |"))) == "G, Eb, B, D");
}

TEST_CASE("the written bass outweighs hand travel, frets outside the wanted part of the neck, leaps and turns together") {
    LineSettings settings;
    settings.region_high = 3;
    settings.costs = *settings.costs.with("region=5,hand-travel=3,turn=6");
    CHECK(begins(line(chart("| C7/E | C7/Bb | F7/A | F7/Eb |"), settings)) == "E, Bb, A, Eb");
    settings.costs = *settings.costs.with("slash-bass=0,opening=0,other-bass=0");
    CHECK(begins(line(chart("| C7/E | C7/Bb | F7/A | F7/Eb |"), settings)) != "E, Bb, A, Eb");
}

TEST_CASE("a written bass that can't be had is said where its chord begins") {
    CHECK(begins(line(chart("| Dm7/G |"))) == "D (begins over D, not over the G behind its slash: F6, as which Dm7/G is played, does not hold it)");
    LineSettings locked;
    locked.locked = {{1, 1, *Grip::parse("8x89xx")}};
    CHECK(begins(line(chart("| C7/E |"), locked)) == "C (begins over C, not over the E behind its slash: the neck, a beat chosen by hand or a cost stands against it)");
}

TEST_CASE("a line opens over its first chord's root, in every chart of the library and every key") {
    for (const LibraryChart& each : chart_library()) {
        for (int key = 0; key < 12; ++key) {
            CAPTURE(each.name);
            CAPTURE(key);
            const Chart moved = transposed(*parse_chart(each.text), usual_root(PitchClass(key)));
            const LineBeat first = line(moved).beats.front();
            CHECK(first.notes.front().name.pitch_class() == parse_chart_symbol(first.chord)->lowest().pitch_class());
        }
    }
}

TEST_CASE("of lines that cost the same the one within the wanted part of the neck is taken") {
    LineSettings settings;
    settings.costs = *settings.costs.with("region=0,opening=0,other-bass=0");
    settings.region_high = 5;
    for (settings.seed = 0; settings.seed < 8; ++settings.seed)
        for (const LineBeat& beat : line(chart("| C7 N.C. |"), settings).beats) CHECK_MESSAGE(beat.notes.front().midi().number() <= 40 + 6, beat.grip.text());
}
