// Two or three muted strums say something; whatever might be playing says nothing.
#include <doctest/doctest.h>

#include <vector>

#include "practice/muted_gestures.h"

using namespace gripline;

namespace {

dsp::MutedStrum muted(double at_s, double level_db = -30.0, float tilt_db = 0.0F) {
    dsp::MutedStrum out{.at_s = at_s, .level_db = level_db};
    for (std::size_t band = 0; band < dsp::kMutedBands; ++band) out.shape_db[band] = -tilt_db * static_cast<float>(band);
    return out;
}

/// What is told while time passes in hundredths: (instant, muted strums).
struct Told {
    MutedGestures gestures;
    double at_s = 0.0;
    std::vector<std::pair<double, int>> made;
    void to(double until_s) {
        for (; at_s < until_s; at_s += 0.01)
            if (const auto one = gestures.pass(at_s)) made.emplace_back(at_s, *one);
    }
    void mute(const dsp::MutedStrum& strum) {
        to(strum.at_s);  // nothing after it is decided before it is told
        gestures.muted(strum);
    }
    void strum(double strum_s) {
        to(strum_s);
        gestures.strum(strum_s);
    }
};

int made_of(const std::vector<dsp::MutedStrum>& strums) {
    Told told;
    for (const auto& each : strums) told.mute(each);
    told.to(told.at_s + 3.0);
    REQUIRE(told.made.size() <= 1);
    return told.made.empty() ? 0 : told.made.front().second;
}

}  // namespace

TEST_CASE("two or three muted strums 0.2 to 0.9 s apart are a gesture; one, four and more, and those further apart are none") {
    for (const double gap_s : {0.21, 0.35, 0.5, 0.7, 0.89}) {
        CAPTURE(gap_s);
        std::vector<dsp::MutedStrum> strums{muted(1.0)};
        CHECK(made_of(strums) == 0);
        for (const int wanted : {2, 3, 0, 0, 0}) {
            strums.push_back(muted(strums.back().at_s + gap_s));
            CHECK(made_of(strums) == wanted);
        }
    }
    CHECK(made_of({muted(1.0), muted(1.15)}) == 0);
    CHECK(made_of({muted(1.0), muted(2.0)}) == 0);
}

TEST_CASE("hands that mean it keep time, strike alike and as hard: others say nothing") {
    CHECK(made_of({muted(1.0), muted(1.4), muted(1.9)}) == 3);
    CHECK(made_of({muted(1.0), muted(1.25), muted(1.64)}) == 3);
    CHECK(made_of({muted(1.0), muted(1.6), muted(1.9)}) == 0);
    CHECK(made_of({muted(1.0), muted(1.4, -40.0)}) == 2);
    CHECK(made_of({muted(1.0), muted(1.4, -46.0)}) == 0);
    CHECK(made_of({muted(1.0), muted(1.4, -30.0, 1.0F)}) == 2);
    CHECK(made_of({muted(1.0), muted(1.4, -30.0, 3.0F)}) == 0);
}

TEST_CASE("a gesture is told when nothing more can come: 1.6 gaps after its last strum, at most 0.9 s") {
    for (const double gap_s : {0.3, 0.5, 0.8}) {
        Told told;
        told.mute(muted(1.0));
        told.mute(muted(1.0 + gap_s));
        told.to(5.0);
        REQUIRE(told.made.size() == 1);
        CHECK(told.made[0].first == doctest::Approx(1.0 + gap_s + std::min(0.9, 1.6 * gap_s)).epsilon(0.02));
        CHECK_FALSE(told.gestures.begun());
    }
}

TEST_CASE("a strum that rings just before, between or just after makes it none; after a pause it makes no difference") {
    for (const double strum_s : {0.6, 1.2, 1.9}) {
        CAPTURE(strum_s);
        Told told;
        if (strum_s < 1.0) told.strum(strum_s);
        told.mute(muted(1.0));
        if (strum_s > 1.0 && strum_s < 1.5) told.strum(strum_s);
        told.mute(muted(1.5));
        if (strum_s > 1.5) told.strum(strum_s);
        told.to(5.0);
        CHECK(told.made.empty());
    }
    Told told;
    told.strum(0.4);
    told.mute(muted(1.0));
    told.strum(1.02);  // the same one, as the chain heard it
    told.mute(muted(1.5));
    told.to(5.0);
    CHECK(told.made.size() == 1);
    told.strum(5.0);
    told.mute(muted(5.6));
    told.mute(muted(6.0));
    told.to(9.0);
    CHECK(told.made.size() == 2);
}

TEST_CASE("ten minutes of a walk whose every chord is damped with a knock make no gesture") {
    Told told;
    for (int beat = 0; beat < 1200; ++beat) {
        const double at_s = 1.0 + beat * 0.5;
        told.strum(at_s);
        told.mute(muted(at_s + 0.35));
    }
    told.to(620.0);
    CHECK(told.made.empty());
}

TEST_CASE("strums in hand are known by their starts, and forgotten when told to") {
    MutedGestures gestures;
    CHECK_FALSE(gestures.begun());
    gestures.muted(muted(1.0));
    CHECK(gestures.begun());
    CHECK(gestures.holds(1.04));
    CHECK_FALSE(gestures.holds(1.1));
    gestures.forget();
    CHECK_FALSE(gestures.holds(1.0));
    CHECK_FALSE(gestures.pass(9.0).has_value());
}
