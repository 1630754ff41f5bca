#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "practice/sound_check.h"

using namespace gripline;

namespace {

void still(SoundCheck& check, double noise_db = -66.0) {
    for (double now_s = 0.0; now_s < 2.2; now_s += 0.1) check.pass(now_s, {noise_db});
}

/// The level of a strum that rings down by 15 dB a second, over a room's noise.
double ringing_db(double since_s, double noise_db) { return since_s < 0.0 ? noise_db : std::max(noise_db, -31.0 - 15.0 * since_s); }

}  // namespace

TEST_CASE("Two quiet seconds and three strums in tune, loud enough, are a good sound") {
    SoundCheck check;
    check.pass(0.0, {-66.0});
    check.strum(-20.0, 3.0);  // too early
    CHECK(check.stage() == CheckStage::still);
    still(check);
    CHECK(check.stage() == CheckStage::strums);
    for (const double cents : {3.0, 5.0, 4.0}) check.strum(-20.0, cents);
    CHECK(check.stage() == CheckStage::good);
    CHECK(check.noise_db() == -66.0);
    CHECK(check.level_db() == -20.0);
    CHECK(check.tuning_cents() == 4.0);
    CHECK(check.trouble().empty());
}

TEST_CASE("An unusable input never becomes good, and is told: hum, noise, too soft, clipping, lost, out of tune") {
    const auto trouble_of = [](const InputCondition& input) {
        SoundCheck check;
        for (double now_s = 0.0; now_s < 60.0; now_s += 0.1) check.pass(now_s, input);
        for (int i = 0; i < 10; ++i) check.strum(-20.0, 0.0);
        CHECK(check.stage() == CheckStage::still);
        return check.trouble();
    };
    CHECK(trouble_of({.level_db = -40.0, .hum = true}).starts_with("Mains hum"));
    CHECK(trouble_of({.level_db = -20.0}).starts_with("It is too loud"));
    CHECK(trouble_of({.there = false}).starts_with("The input is lost"));
    SoundCheck soft;
    still(soft, -80.0);
    for (int i = 0; i < 10; ++i) soft.strum(-55.0, 0.0);
    CHECK(soft.stage() == CheckStage::strums);
    CHECK(soft.trouble().starts_with("Too soft (-55 dB)"));
    SoundCheck noisy;
    still(noisy, -35.0);
    noisy.strum(-20.0, 0.0);
    CHECK(noisy.trouble().starts_with("Only 15 dB above the room's noise; 20 are needed"));
    SoundCheck flat;
    still(flat);
    for (int i = 0; i < 9; ++i) flat.strum(-20.0, -45.0);
    CHECK(flat.stage() == CheckStage::strums);
    CHECK(flat.trouble().starts_with("The guitar is 45 cents flat"));
    for (int i = 0; i < 3; ++i) flat.strum(-20.0, -5.0);
    CHECK(flat.stage() == CheckStage::good);
}

TEST_CASE("A strum while the room is listened to is not the room, whenever in the still time it comes") {
    for (const double strum_s : {0.0, 0.4, 0.9, 1.5, 1.9}) {
        CAPTURE(strum_s);
        SoundCheck check;
        double now_s = 0.0;
        for (; check.stage() == CheckStage::still && now_s < 30.0; now_s += 0.02) {
            check.pass(now_s, {ringing_db(now_s - strum_s, -60.0)});
            if (now_s - strum_s > 0.5 && now_s - strum_s < 1.5 && now_s > 2.2) CHECK(check.trouble().starts_with("Something still sounds"));
        }
        CHECK(now_s < 6.0);
        CHECK(check.noise_db() < -49.0);
        for (int i = 0; i < 3; ++i) check.strum(-28.0, 0.0);
        CHECK(check.stage() == CheckStage::good);
    }
}

TEST_CASE("A room that was taken too loud is mended by waiting, not by strumming on") {
    SoundCheck check;
    still(check, -40.0);  // somebody moves a chair
    double now_s = 2.2;
    for (int strum = 0; strum < 20; ++strum) {
        check.strum(-25.0, 0.0);
        CHECK(check.trouble().starts_with("Only 15 dB above the room's noise; 20 are needed"));
        CHECK(check.trouble().find("key c") != std::string::npos);
        for (const double until_s = now_s + 0.5; now_s < until_s; now_s += 0.02) check.pass(now_s, {-26.0});
    }
    for (const double until_s = now_s + 2.5; now_s < until_s; now_s += 0.02) check.pass(now_s, {-62.0});
    for (int i = 0; i < 3; ++i) check.strum(-25.0, 0.0);
    CHECK(check.stage() == CheckStage::good);
    CHECK(check.noise_db() == -62.0);
}

TEST_CASE("A strum a hair too soft against the noise is not told to have the level that is needed") {
    SoundCheck check;
    still(check, -50.0);
    check.strum(-30.2, 0.0);
    CHECK(check.trouble().starts_with("Only 19 dB"));
}

TEST_CASE("A wholly silent input is a fine room; it is told until a strum comes, and the first strum counts as one") {
    SoundCheck check;
    for (double now_s = 0.0; now_s < 10.0; now_s += 0.02) check.pass(now_s, {.level_db = -120.0, .silent = now_s > 2.0});
    CHECK(check.stage() == CheckStage::strums);
    CHECK(check.trouble().starts_with("No signal"));
    check.pass(10.0, {-25.0});
    CHECK(check.trouble().empty());
    for (int i = 0; i < 3; ++i) check.strum(-25.0, 0.0);
    CHECK(check.stage() == CheckStage::good);
}

TEST_CASE("A room that is never still, with talk in it, keeps nobody out for ever") {
    SoundCheck check;
    double now_s = 0.0;
    for (; now_s < 20.0 && check.stage() == CheckStage::still; now_s += 0.02) check.pass(now_s, {std::fmod(now_s, 0.8) < 0.4 ? -36.0 : -58.0});
    CHECK(check.stage() == CheckStage::strums);
    CHECK(now_s > 10.0);
}
