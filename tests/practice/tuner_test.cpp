// The tuner's state from readings whose pitch is known: ISO 16:1975 and MIDI 1.0 give the strings, the rest is arithmetic on cents.
#include "practice/tuner.h"

#include <doctest/doctest.h>

#include <cmath>

using namespace gripline;

namespace {

constexpr double kReading_s = 512.0 / 12000.0;

/// Half a second and more of one string.
void sound(Tuner& tuner, double hz, double& now_s, int readings = 12) {
    for (int i = 0; i < readings; ++i) tuner.take({.at_s = now_s += kReading_s, .hz = hz, .clarity = 0.9, .level_db = -30.0});
}

void silence(Tuner& tuner, double& now_s) {
    for (int i = 0; i < 15; ++i) tuner.take({.at_s = now_s += kReading_s});
}

double off(double hz, double cents) { return hz * std::exp2(cents / 1200.0); }

}  // namespace

TEST_CASE("each open string of any tuning is found by itself, with its cents, at any concert pitch") {
    for (const char* name : {"standard", "drop D", "semitone down", "tone down", "seven string B", "seven string A"}) {
        const Tuning tuning = Tuning::parse(name).value();
        for (const double a4_hz : {415.0, 440.0, 466.0}) {
            Tuner tuner({.tuning = tuning, .a4_hz = a4_hz});
            double now_s = 0.0;
            for (int string = 1; string <= tuning.strings(); ++string) {
                for (const double cents : {-90.0, -12.0, 0.0, 3.0, 90.0}) {
                    CAPTURE(name);
                    CAPTURE(string);
                    CAPTURE(cents);
                    const double target_hz = a4_hz * std::exp2((tuning.open(StringNumber(string)).number() - 69) / 12.0);
                    sound(tuner, off(target_hz, cents), now_s);
                    REQUIRE(tuner.view().sounding.has_value());
                    CHECK(tuner.view().sounding->number() == string);
                    CHECK(std::abs(tuner.view().cents - cents) < 1e-6);
                    CHECK(tuner.view().steady);
                    silence(tuner, now_s);
                    CHECK(!tuner.view().sounding);
                }
            }
        }
    }
}

TEST_CASE("opened while a grip rings: nothing is read before a new pluck, or before it is silent") {
    for (const bool silent_first : {false, true}) {
        CAPTURE(silent_first);
        Tuner tuner;
        tuner.await_pluck();
        double now_s = 0.0;
        const auto ring = [&](double hz, int readings) {
            for (int i = 0; i < readings; ++i) tuner.take({.at_s = now_s += kReading_s, .hz = hz, .clarity = 0.9, .level_db = -30.0, .window_s = 0.3});
        };
        for (int i = 0; i < 3; ++i) tuner.take({.at_s = now_s += kReading_s, .level_db = -30.0});  // the first window is not full yet
        ring(98.0, 40);  // G2 of a grip: no open string
        CHECK(tuner_words(tuner.view()) == "Play one string");
        if (silent_first) silence(tuner, now_s);
        else for (int i = 0; i < 3; ++i) tuner.take({.at_s = now_s += kReading_s, .level_db = -20.0});  // plucked: the window begins anew
        ring(110.0, 12);
        CHECK(tuner_words(tuner.view()) == "String 5, A2: in tune");
    }
}

TEST_CASE("a capo raises every string") {
    Tuner tuner({.capo = 2});
    double now_s = 0.0;
    sound(tuner, 440.0 * std::exp2((42 - 69) / 12.0), now_s);  // F#2
    CHECK(tuner_words(tuner.view()) == "String 6, Gb2: in tune");
}

TEST_CASE("words: string, note, cents") {
    Tuner tuner;
    double now_s = 0.0;
    CHECK(tuner_words(tuner.view()) == "Play one string");
    sound(tuner, off(110.0, -3.1), now_s);
    CHECK(tuner_words(tuner.view()) == "String 5, A2: 3 cents flat");
    sound(tuner, off(110.0, 12.4), now_s);
    CHECK(tuner_words(tuner.view()) == "String 5, A2: 12 cents sharp");
    sound(tuner, off(110.0, 1.4), now_s);
    CHECK(tuner_words(tuner.view()) == "String 5, A2: in tune");
    CHECK(cents_words(-2.0) == "2 cents flat");
}

TEST_CASE("a string more than 40 cents out: tune before practising; at 40 and less nothing is said") {
    Tuner tuner;
    double now_s = 0.0;
    sound(tuner, off(146.832, -39.0), now_s);
    CHECK(!tuning_refusal(tuner.view()));
    sound(tuner, off(146.832, -43.0), now_s);
    CHECK(tuning_refusal(tuner.view()).value() == "string 4 is 43 cents flat: tune before practising");
    sound(tuner, off(329.628, 55.0), now_s);
    CHECK(tuning_refusal(tuner.view()).value() == "string 4 is 43 cents flat, string 1 is 55 cents sharp: tune before practising");
    sound(tuner, 146.832, now_s);
    sound(tuner, 329.628, now_s);
    CHECK(!tuning_refusal(tuner.view()));
    sound(tuner, off(146.832, -60.0), now_s);
    tuner.reset();
    CHECK(!tuning_refusal(tuner.view()));
}

TEST_CASE("a string that is being turned is not steady, and leaves no verdict of its own") {
    Tuner tuner;
    double now_s = 0.0;
    for (int i = 0; i < 40; ++i) {
        tuner.take({.at_s = now_s += kReading_s, .hz = off(110.0, -60.0 + i)});
        CHECK(!tuner.view().steady);
    }
    CHECK(!tuner.view().strings[1].cents);
    sound(tuner, off(110.0, -20.0), now_s);
    CHECK(tuner.view().steady);
    CHECK(std::abs(*tuner.view().strings[1].cents + 20.0) < 1e-6);
}

TEST_CASE("one stray reading among good ones does not show") {
    Tuner tuner;
    double now_s = 0.0;
    sound(tuner, 110.0, now_s);
    tuner.take({.at_s = now_s += kReading_s, .hz = off(110.0, 9.0)});
    CHECK(std::abs(tuner.view().cents) < 1e-6);
}

TEST_CASE("what lies far from every string is no string") {
    Tuner tuner;
    double now_s = 0.0;
    sound(tuner, 1000.0, now_s);
    CHECK(!tuner.view().sounding);
    sound(tuner, 60.0, now_s);
    CHECK(!tuner.view().sounding);
}

TEST_CASE("the turn stands still in tune, runs up while sharp and down while flat, by four turns a second for each Hz") {
    Tuner tuner;
    double now_s = 0.0;
    sound(tuner, 110.0, now_s);
    const double before = tuner.view().turn;
    sound(tuner, 110.0, now_s);
    CHECK(std::abs(tuner.view().turn - before) < 1e-9);
    sound(tuner, 110.1, now_s, 6);
    const double at = tuner.view().turn;
    sound(tuner, 110.1, now_s, 12);
    const double gone = tuner.view().turn - at;
    CHECK(std::abs(gone - std::floor(gone) - 4.0 * 0.1 * 12 * kReading_s) < 1e-3);
}
