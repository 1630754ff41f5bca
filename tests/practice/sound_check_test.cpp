#include <doctest/doctest.h>

#include "practice/sound_check.h"

using namespace gripline;

namespace {

void still(SoundCheck& check, double noise_db = -66.0) {
    for (double now_s = 0.0; now_s < 2.2; now_s += 0.1) check.pass(now_s, {noise_db});
}

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

TEST_CASE("An unusable input never becomes good, and is told: no signal, hum, noise, too soft, clipping, lost, out of tune") {
    const auto trouble_of = [](const InputCondition& input) {
        SoundCheck check;
        for (double now_s = 0.0; now_s < 60.0; now_s += 0.1) check.pass(now_s, input);
        for (int i = 0; i < 10; ++i) check.strum(-20.0, 0.0);
        CHECK(check.stage() == CheckStage::still);
        return check.trouble();
    };
    CHECK(trouble_of({.silent = true}).starts_with("No signal"));
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
