// Which family serves which symbol: common practice, no source. A player may choose another.
#include <doctest/doctest.h>

#include <algorithm>
#include <set>
#include <string>

#include "theory/serving.h"

using namespace gripline;

TEST_CASE("the default scale of each kind of chord symbol") {
    for (const auto& [symbol, wanted] : {std::pair<const char*, const char*>{"C", "C major sixth"}, {"Cmaj7", "C major sixth"}, {"C6", "C major sixth"}, {"C6/9", "C major sixth"},
                                         {"Cm6", "C minor sixth"}, {"Cm(maj7)", "C minor sixth"}, {"Cm", "C minor sixth"}, {"Am7", "C major sixth"}, {"Ebm7", "Gb major sixth"},
                                         {"Dm7b5", "F minor sixth"}, {"G7", "G dominant seventh"}, {"G9", "G dominant seventh"}, {"G13", "G dominant seventh"},
                                         {"G7b5", "G seventh flat five"}, {"G7#11", "G seventh flat five"}, {"G7alt", "Ab minor sixth"}, {"G7b9", "Ab minor sixth"},
                                         {"B7alt", "C minor sixth"}, {"Bb7alt", "B minor sixth"}, {"Bdim7", "B diminished"}, {"C/E", "C major sixth"}}) {
        CAPTURE(symbol);
        CHECK(serving(*parse_chord(symbol)).text() == wanted);
    }
}

TEST_CASE("a suspended chord, with a seventh or without, is served by a chord that has its fourth and no third") {
    for (const char* symbol : {"Csus4", "Csus", "C7sus4", "C9sus4", "C13sus4", "C11", "Csus4(add9)", "C6sus4"}) {
        const auto chord = parse_chart_symbol(symbol);
        CAPTURE(symbol);
        REQUIRE(chord.ok());
        const Serving scale = serving(*chord);
        for (const ScaleStep& step : harmonised_scale(scale.root, scale.family)) {
            if (step.role == Role::passing) continue;
            std::set<int> above;
            for (const NoteName tone : step.tones) above.insert(chord->root.pitch_class().up_to(tone.pitch_class()));
            CHECK(above.contains(5));
            CHECK_FALSE(above.contains(4));
            CHECK_FALSE(above.contains(3));
        }
    }
    CHECK(serving(*parse_chord("Fsus2")).text() == "F major sixth");
    CHECK(serving(*parse_chord("C5")).text() == "C major sixth");
}

TEST_CASE("Am7 holds the notes of C6, Dm7b5 those of Fm6: the serving chord has the same pitch classes, in all keys") {
    for (int key = 0; key < 12; ++key)
        for (const char* suffix : {"m7", "m7b5"}) {
            const auto chord = parse_chord(usual_root(PitchClass(key)).text() + suffix);
            REQUIRE(chord.ok());
            const Serving scale = serving(*chord);
            std::set<PitchClass> own, served;
            for (const PitchClass each : chord->pitch_classes()) own.insert(each);
            const auto tones = harmonised_scale(scale.root, scale.family)[0].tones;
            for (const NoteName& tone : tones) served.insert(tone.pitch_class());
            CHECK(own == served);
        }
}

TEST_CASE("a dominant may also take the minor sixth on its fifth") {
    const auto all = servings(*parse_chord("G7"));
    CHECK(std::any_of(all.begin(), all.end(), [](const Serving& each) { return each.text() == "D minor sixth"; }));
}
