// The practice screen where the grip asked stays hidden: what is shown in its place, and what is kept of the answers.
#include <doctest/doctest.h>

#include "ui/golden.h"
#include "ui/played_practice.h"

using namespace gripline;

namespace {

PracticeRunConfig asked(Asking asking) {
    PracticeRunConfig config;
    config.plan.asking = asking;
    return config;
}

struct Practice : test::PlayedPractice {
    explicit Practice(Asking asking) : PlayedPractice(asked(asking)) {}
    /// The tool's own sound, where there is one, has died away.
    void sounded() { pass(2.2); }
    void miss() {
        key('m');
        pass(5.0);
    }
    void golden(const std::string& name) const {
        test::check_three_sizes(name, CharacterSet::utf8, "", [&](Canvas& canvas) { run.draw(canvas, sound.now_s()); });
    }
};

}  // namespace

TEST_CASE("Named: symbol and bass alone until the second miss, or the key") {
    Practice practice(Asking::named);
    CHECK(practice.shows("Strum Bdim7 with F in the bass."));
    CHECK_FALSE(practice.shows("1x01xx"));
    practice.miss();
    CHECK_FALSE(practice.shows("1x01xx"));
    practice.miss();
    CHECK(practice.shows("1x01xx"));
    practice.key('n');
    practice.pass(0.1);
    CHECK_FALSE(practice.shows("3x23xx"));
    practice.key('d');
    CHECK(practice.shows("3x23xx"));
}

TEST_CASE("Next step: the step beside it is shown, the one asked is heard as right") {
    Practice practice(Asking::next_step);
    CHECK(practice.shows("From here play the next step down."));
    practice.key('n');
    practice.sounded();
    CHECK(practice.shows("From here play the next step up."));
    CHECK(practice.shows("1x01xx"));
    CHECK_FALSE(practice.shows("3x23xx"));
    practice.golden("practice-next-step");
    practice.key('p');
    practice.pass(0.6);
    CHECK(practice.shows("Right."));
    CHECK(practice.shows("3x23xx"));
    CHECK(practice.shows("Next: from C7, bass G, the next step up."));
    practice.golden("practice-next-step-right");
}

TEST_CASE("Next step without an output is shown all the same") {
    Practice practice(Asking::next_step);
    practice.sound.output_ = false;
    practice.key('n');
    practice.pass(0.3);
    CHECK(practice.shows("From here play the next step up."));
    CHECK_FALSE(practice.shows("there is no output"));
}

TEST_CASE("By ear: the key first, then the step; again, bass first and note by note on a key; right without help") {
    Practice practice(Asking::by_ear);
    REQUIRE(practice.sound.rows_.size() == 1);
    CHECK(practice.sound.rows_[0].size() == 3);  // G7, C7, the step
    CHECK(practice.sound.rows_[0].front().step.chord == "G7");
    CHECK_FALSE(practice.shows("Bdim7"));
    practice.golden("practice-by-ear");
    practice.pass(4.0);
    practice.key('n');
    practice.pass(0.1);
    REQUIRE(practice.sound.rows_.size() == 2);
    CHECK(practice.sound.rows_[1].size() == 1);  // the key is known
    practice.key('j');
    practice.key('l');
    practice.key('k');
    REQUIRE(practice.sound.rows_.size() == 5);
    CHECK(practice.sound.rows_[2].size() == 2);
    CHECK(practice.sound.rows_[3].size() == 4);
    CHECK(practice.sound.rows_[4].size() == 3);
    practice.pass(4.0);
    practice.key('p');
    practice.pass(0.6);
    CHECK(practice.shows("Right."));
}

TEST_CASE("By ear while nothing can be heard says so") {
    Practice practice(Asking::by_ear);
    practice.sound.output_ = false;
    practice.key('n');
    practice.pass(0.3);
    CHECK(practice.shows("there is no output"));
}
