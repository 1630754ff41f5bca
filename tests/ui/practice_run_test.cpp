#include <doctest/doctest.h>

#include <cmath>

#include "support/progress_source.h"
#include "ui/played_practice.h"
#include "ui/practice_words.h"

using namespace gripline;

namespace {

/// A practice of C dominant-seventh shells.
using Practice = test::PlayedPractice;

}  // namespace

TEST_CASE("What the player plays rightly is heard as right, and the next step is asked without a key") {
    Practice practice;
    const std::string first = practice.run.session().asked()->grip.text();
    practice.key('p');
    practice.pass(0.5);
    CHECK(practice.shows("Right."));
    CHECK(practice.shows("Next: "));
    CHECK(practice.run.session().counts().right == 1);
    practice.pass(1.3);
    CHECK(practice.run.session().state() == PracticeState::listening);
    CHECK(practice.run.session().asked()->grip.text() != first);
    CHECK(practice.shows("step 2 of 8"));
}

TEST_CASE("A verdict is there within 300 ms of the strum") {
    Practice practice;
    practice.key('p');
    practice.pass(0.31);
    CHECK(practice.run.session().counts().right == 1);
}

TEST_CASE("A mistake is named by string and frets, and the same step is asked again") {
    Practice practice;
    for (int i = 0; i < 3; ++i) practice.key('n');  // up from F: G, Ab, Bb
    practice.pass(0.1);  // a strum that seems to begin before the asking is not judged, and an onset is known to some milliseconds
    REQUIRE(practice.run.session().asked()->grip.text() == "6x55xx");
    practice.key('m');
    practice.pass(0.5);
    CHECK(practice.shows("Wrong. String 3, one fret flat: B heard, C asked."));
    CHECK(practice.shows("B!"));
    practice.pass(4.0);
    CHECK(practice.run.session().asked()->grip.text() == "6x55xx");
    CHECK(practice.shows("Again: C7 with Bb in the bass."));
    CHECK(practice.shows("Last time: "));
}

TEST_CASE("While the practice is paused the player is not judged") {
    Practice practice;
    practice.key(' ');
    CHECK(practice.shows("Paused"));
    practice.key('p');
    practice.pass(1.0);
    CHECK(practice.run.session().counts().right == 0);
    practice.key(' ');
    CHECK(practice.shows("Listening"));
}

TEST_CASE("Keys change root, family, stage, string set and order, and what is practised says so") {
    Practice practice;
    CHECK(practice.shows("C dominant seventh, shell, strings 6-4-3, up"));
    practice.key('r');
    CHECK(practice.shows("Db dominant seventh"));
    practice.key('R');
    practice.key('R');
    CHECK(practice.shows("B dominant seventh"));
    practice.key('f');
    CHECK(practice.shows("B seventh flat five"));
    practice.key('s');
    CHECK(practice.shows("B seventh flat five, scale, string 1, up"));
    practice.key('t');
    CHECK(practice.shows("scale, string 2, up"));
    practice.key('s');
    CHECK(practice.shows("drop 2, strings 4-3-2-1"));
    practice.key('o');
    CHECK(practice.shows(", down"));
}

TEST_CASE("Every root, family, stage and string set can be reached and drawn at every size") {
    Practice practice;
    int asked = 0;
    for (int root = 0; root < 12; ++root) {
        for (int family = 0; family < 4; ++family) {
            for (int stage = 0; stage < 4; ++stage) {
                for (int set = 0; set < 4; ++set) {
                    if (practice.run.session().asked() != nullptr) ++asked;
                    CHECK_FALSE(practice.picture(80, 24).empty());
                    CHECK_FALSE(practice.picture(40, 12).empty());
                    practice.key('t');
                }
                practice.key('s');
            }
            practice.key('f');
        }
        practice.key('r');
    }
    CHECK(asked == 12 * 4 * 4 * 4);
}

TEST_CASE("A key without a meaning is answered in words and changes nothing") {
    Practice practice;
    const auto askings = practice.run.session().askings();
    practice.key('z');
    CHECK(practice.shows("Key z does nothing here: ? shows the keys."));
    practice.run.press({}, practice.sound.now_s(), 80, 24);
    CHECK(practice.shows("That key does nothing here"));
    CHECK(practice.run.session().askings() == askings);
    practice.pass(4.1);
    CHECK_FALSE(practice.shows("does nothing"));
    CHECK(practice.shows("Input: built-in player (no sound card found)"));
}

TEST_CASE("Help stops the listening, turns its pages by any key and goes back; q quits from there too") {
    Practice practice;
    practice.key('?');
    CHECK(practice.shows("ask the same again at once"));
    CHECK(practice.run.session().state() == PracticeState::paused);
    practice.key('x');
    CHECK(practice.shows("Stop at pain"));
    practice.key('x');
    CHECK(practice.shows("Listening"));
    practice.key('?');
    practice.key('q');
    CHECK(practice.run.over());
}

TEST_CASE("At the first start the cautions come before the first asking") {
    PracticeRunConfig config;
    config.show_cautions = true;
    Practice practice(config);
    CHECK(practice.shows("Hearing: headphones and amplifiers can damage it."));
    CHECK_FALSE(practice.run.cautions_read());
    practice.key(' ');
    CHECK(practice.run.cautions_read());
    CHECK(practice.shows("Listening"));
}

TEST_CASE("Hearing the target is kept from being judged when it may come back through the live input") {
    Practice practice;
    practice.sound.player_is_input_ = false;
    practice.key('h');
    CHECK(practice.shows("Sounding"));
    CHECK_FALSE(practice.run.session().wants(practice.sound.input().stream_s + 1.0));
    CHECK(practice.run.session().wants(practice.sound.input().stream_s + 2.0));
    practice.sound.output_ = false;
    practice.key('h');
    CHECK(practice.shows("there is no output"));
}

TEST_CASE("The player's keys say when the player is not the input, and the input can be changed") {
    Practice practice;
    practice.key('i');
    CHECK(practice.shows("line in (2 in, 48000 Hz)"));
    CHECK_FALSE(practice.shows("play right"));
    practice.key('p');
    CHECK(practice.shows("The built-in player is not the input now"));
    practice.sound.card_ = false;
    practice.key('i');
    CHECK(practice.shows("there is no sound card"));
}

TEST_CASE("Trouble with the input is told in words, the worst first, with what to do") {
    Practice practice;
    practice.sound.input_.lost_frames = 512;
    CHECK(practice.shows("512 frames of sound lost so far"));
    practice.sound.input_.hum = true;
    CHECK(practice.shows("Mains hum: check the cable"));
    practice.sound.input_.clipping = true;
    CHECK(practice.shows("The input clips: turn the guitar or the input down."));
    practice.sound.input_.silent = true;
    CHECK(practice.shows("No signal at all: check cable"));
    practice.sound.input_.source = SourceState::lost;
    CHECK(practice.shows("the device is lost: plug it in again"));
    CHECK(practice.shows("No input"));
}

TEST_CASE("A course that the neck can't hold leaves nothing to ask and says why; another root goes on") {
    PracticeRunConfig config;
    config.course.strings = StringSet({StringNumber(5), StringNumber(4)});
    Practice practice(config);
    CHECK(practice.shows("Nothing to ask: "));
    for (const char key : {'p', 'm', 'h', 'a', 'n', 'b', ' '}) practice.key(key);
    practice.pass(0.5);
    practice.key('t');
    CHECK(practice.shows("Strum "));
}

TEST_CASE("The tuner opens by a key, names the strings that are played one by one, and the same key goes back to the step asked") {
    Practice practice;
    practice.sound.detuned_cents_ = -23.0;
    const std::string asked = practice.run.session().asked()->grip.text();
    practice.key('u');
    CHECK(practice.shows("Play one string"));
    CHECK(practice.shows("u back   p play a string   q quit"));
    CHECK(practice.run.session().state() == PracticeState::paused);
    // MIDI 1.0: E2 is 40, A2 is 45; the player's guitar is 23 cents flat on every string.
    for (const char* heard : {"String 6, E2: 23 cents flat", "String 5, A2: 23 cents flat"}) {
        practice.key('p');
        practice.pass(1.2);
        CHECK_MESSAGE(practice.shows(heard), practice.picture());
        practice.pass(2.5);
    }
    practice.key('u');
    CHECK(practice.shows("Listening"));
    CHECK_FALSE(practice.sound.strings_);
    CHECK(practice.run.session().asked()->grip.text() == asked);
    practice.pass(0.3);
    practice.key('p');
    practice.pass(0.5);
    CHECK(practice.run.session().counts().right == 1);
    practice.key('u');
    practice.key('q');
    CHECK(practice.run.over());
}

TEST_CASE("Progress opens by a key over a paused session, and the same key goes back to the step asked") {
    PracticeRunConfig config;
    config.progress = [] { return KeptProgress{test::planted_source(), ""}; };
    Practice practice(config);
    practice.key('g');
    CHECK(practice.shows("Progress of player A"));
    CHECK(practice.run.session().state() == PracticeState::paused);
    practice.key('g');
    CHECK(practice.shows("Listening"));
    practice.pass(0.3);
    practice.key('p');
    practice.pass(0.5);
    CHECK(practice.run.session().counts().right == 1);
    Practice bare;
    bare.key('g');
    CHECK(bare.shows("No history is kept"));
    config.progress = [] { return Result<KeptProgress>(Error{"nothing was kept yet"}); };
    Practice empty(config);
    empty.key('g');
    CHECK(empty.shows("No progress to show: nothing was kept yet"));
    CHECK(empty.run.session().state() != PracticeState::paused);
}

TEST_CASE("A pause stays over a look at the tuner, Escape leaves it, trouble with the input is told there, and it draws at every size") {
    Practice practice;
    practice.key(' ');
    practice.key('u');
    practice.sound.input_.source = SourceState::lost;
    CHECK(practice.shows("the device is lost: plug it in again"));
    for (int rows = 0; rows < 42; ++rows) (void)practice.picture(rows * 3, rows);
    practice.run.press({0, SpecialKey::escape}, practice.sound.now_s(), 80, 24);
    practice.sound.input_.source = SourceState::running;
    CHECK(practice.shows("Paused"));
    CHECK(practice.run.session().state() == PracticeState::paused);
}

TEST_CASE("A guitar 43 cents flat is told so instead of being judged; in tune again it is judged at once") {
    Practice practice;
    practice.sound.detuned_cents_ = -43.0;
    for (int strum = 0; strum < 3; ++strum) {
        practice.key('p');
        practice.pass(4.0);
    }
    CHECK(practice.run.session().state() == PracticeState::out_of_tune);
    CHECK(practice.run.session().counts().wrong == 0);
    const double cents = practice.run.session().out_of_tune_cents().value_or(0.0);
    CHECK(std::abs(cents + 43.0) < 3.0);
    CHECK_MESSAGE(practice.shows(" cents flat: tune before going on (key u)."), practice.picture());
    CHECK(practice.picture(40, 12).find("cents flat: tune before") != std::string::npos);
    practice.sound.detuned_cents_ = 0.0;
    const int right = practice.run.session().counts().right;
    practice.key('p');
    practice.pass(0.5);
    CHECK_MESSAGE(practice.run.session().counts().right == right + 1, practice.picture());
}
