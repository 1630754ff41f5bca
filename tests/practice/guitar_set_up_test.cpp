// The guided set-up on synthetic stiff strings (Fletcher 1964): what is found, what is refused, what is asked again.
#include "practice/guitar_set_up.h"

#include <doctest/doctest.h>

#include <cmath>

#include "support/set_up_sound.h"

using namespace gripline;
using namespace gripline::test;

namespace {

constexpr int kRate_hz = 44100;

GuitarSetUp listened(const std::vector<float>& sound, std::size_t block = 256, SetUpConfig config = {}) {
    config.rate_hz = kRate_hz;
    GuitarSetUp guide(config);
    for (std::size_t i = 0; i < sound.size(); i += block) guide.process(std::span(sound).subspan(i, std::min(block, sound.size() - i)));
    return guide;
}

}  // namespace

TEST_CASE("A set-up finds every string's tuning within half a cent and its stiffness within a tenth, without a key") {
    auto notes = set_up_notes();
    const std::vector<double> cents{-7.0, 3.0, 0.0, 12.0, -20.0, 5.0};
    for (std::size_t i = 0; i < 6; ++i) {
        notes[i].cents = cents[i];
        notes[i].stiffness = 1.5e-4 - 2e-5 * static_cast<double>(i);
        notes[i + 6].cents = cents[i] + 4.0;  // the fretted notes are sharper
    }
    const GuitarSetUp guide = listened(set_up_sound(notes));
    CHECK(guide.view().stage == SetUpStage::done);
    const auto profile = guide.profile();
    REQUIRE(profile.ok());
    REQUIRE(profile->strings.size() == 6);
    CHECK(profile->fret == 7);
    for (std::size_t i = 0; i < 6; ++i) {
        const ProfileString& string = profile->strings[i];
        CAPTURE(i);
        CHECK(string.string.number() == 6 - static_cast<int>(i));
        CHECK(std::abs(profile->open_cents(string) - cents[i]) < 0.5);
        CHECK(std::abs(GuitarProfile::fretted_cents(string) - 4.0) < 0.7);
        CHECK(std::abs(string.open.stiffness / notes[i].stiffness - 1.0) < 0.1);
        CHECK(std::abs(dsp::tilt_db_per_octave(string.open) + 8.0) < 3.0);  // -2.5 dB a partial, by least squares over twelve
    }
    CHECK(std::abs(profile->noise_db + 66.0) < 3.0);  // white noise of -60 dB up to 22 kHz, heard up to 4.3 to 6 kHz
    CHECK(std::abs(profile->level_db + 20.0) < 4.0);
}

TEST_CASE("What comes of it does not depend on how the sound is cut") {
    const auto sound = set_up_sound(set_up_notes(6.0));
    const auto a = listened(sound, 64).profile(), b = listened(sound, 4096).profile();
    REQUIRE(a.ok());
    REQUIRE(b.ok());
    for (std::size_t i = 0; i < 6; ++i) {
        CHECK(a->strings[i].open.cents == b->strings[i].open.cents);
        CHECK(a->strings[i].open.partial_db == b->strings[i].open.partial_db);
    }
}

TEST_CASE("A string more than 40 cents out is refused by its number, until it is tuned; then the set-up goes on") {
    auto notes = set_up_notes();
    notes[1].cents = -62.0;
    auto only = notes;
    only.resize(2);
    const GuitarSetUp refused = listened(set_up_sound(only));
    CHECK(refused.view().heard == "String 5 is 62 cents flat: tune it, then play it again.");
    CHECK(refused.refusal() == "string 5 is 62 cents flat: tune before setting up");
    CHECK(refused.profile().error().message == "string 5 is 62 cents flat: tune before setting up");
    notes.insert(notes.begin() + 2, {45, -2.0, 8e-5});
    const GuitarSetUp tuned = listened(set_up_sound(notes));
    CHECK(tuned.view().stage == SetUpStage::done);
    CHECK_FALSE(tuned.refusal());
    REQUIRE(tuned.profile().ok());
    CHECK(std::abs(tuned.profile()->open_cents(tuned.profile()->strings[1]) + 2.0) < 0.5);
    notes[1].cents = -39.0;  // within bounds: taken, and the note after it is one that was not asked
    notes.erase(notes.begin() + 2);
    CHECK(listened(set_up_sound(notes)).view().stage == SetUpStage::done);
}

TEST_CASE("Another note than the one asked is told and waited out") {
    auto notes = set_up_notes();
    notes.insert(notes.begin(), {45, 0.0, 8e-5});
    auto first = notes;
    first.resize(1);
    CHECK(listened(set_up_sound(first)).view().heard == "Heard A2; string 6 open is E2.");
    notes.insert(notes.begin() + 7, {40, 0.0, 8e-5});
    auto up_to_open = notes;
    up_to_open.resize(8);
    CHECK(listened(set_up_sound(up_to_open)).view().heard == "Heard the open string; hold it down at fret 7.");
    CHECK(listened(set_up_sound(notes)).view().stage == SetUpStage::done);
}

TEST_CASE("Back asks the last note again, also at the end; from the beginning forgets all") {
    GuitarSetUp guide = listened(set_up_sound(set_up_notes()));
    REQUIRE(guide.view().stage == SetUpStage::done);
    guide.back();
    CHECK(guide.view().stage == SetUpStage::notes);
    CHECK(set_up_words(guide.view()) == "Play string 1 at fret 7: B4");
    CHECK_FALSE(guide.profile().ok());
    guide.back();
    CHECK(set_up_words(guide.view()) == "Play string 2 at fret 7: Gb4");
    guide.again();
    CHECK(set_up_words(guide.view()) == "Damp all strings and keep still");
    CHECK(guide.profile().error().message.find("no quiet second") != std::string::npos);
}

TEST_CASE("Without sound, with noise alone, and with a take that breaks off nothing is found, and the reason says what is missing") {
    CHECK(GuitarSetUp().profile().error().message.find("no quiet second") != std::string::npos);
    std::vector<float> noise(static_cast<std::size_t>(kRate_hz) * 4, 0.0F);
    add_noise(0.01, 5, noise);
    CHECK(listened(noise).profile().error().message == "note 1 of 12, string 6 open (E2), was not heard");
    CHECK(listened(std::vector<float>(static_cast<std::size_t>(kRate_hz) * 4, 0.0F)).view().stage == SetUpStage::notes);
    auto notes = set_up_notes();
    notes.resize(8);
    CHECK(listened(set_up_sound(notes)).profile().error().message == "note 9 of 12, string 4 at fret 7 (A3), was not heard");
}

TEST_CASE("Other tunings, a capo and another concert pitch: the fret that is asked is on no string an open string's note") {
    for (const char* text : {"standard", "drop D", "tone down", "seven string B", "D2 G2 D3 G3 B3 D4"}) {
        const Tuning tuning = Tuning::parse(text).value();
        const int fret = set_up_fret(tuning);
        CAPTURE(text);
        for (int s = 1; s <= tuning.strings(); ++s)
            for (int other = 1; other <= tuning.strings(); ++other) CHECK(tuning.open(StringNumber(s)).number() + fret != tuning.open(StringNumber(other)).number());
    }
    auto notes = set_up_notes();
    for (auto& note : notes) note.midi += 2;
    const auto profile = listened(set_up_sound(notes, kRate_hz, 415.0), 256, {.tuning = {}, .capo = 2, .a4_hz = 415.0}).profile();
    REQUIRE(profile.ok());
    for (const ProfileString& string : profile->strings) CHECK(std::abs(profile->open_cents(string)) < 0.5);
}

TEST_CASE("Advice names strings, intonation, level and noise, and is silent where all is well") {
    const auto all_well = listened(set_up_sound(set_up_notes())).profile();
    REQUIRE(all_well.ok());
    CHECK(advice(*all_well).empty());
    GuitarProfile profile = *all_well;
    profile.strings[0].open.cents = -9.0;
    profile.strings[0].fretted.cents = 3.0;
    profile.level_db = -45.0;
    profile.noise_db = -60.0;
    const auto sentences = advice(profile);
    REQUIRE(sentences.size() == 4);
    CHECK(sentences[0].find("Quiet") == 0);
    CHECK(sentences[1].find("Noise is only 15 dB") == 0);
    CHECK(sentences[2] == "String 6 is 9 cents flat.");
    CHECK(sentences[3].find("String 6 at fret 7 is 12 cents sharp") == 0);
}
