// What muted strums ask for, through the real listening chain: again, next and the rest; they are no answers, and playing is no gesture.
#include <doctest/doctest.h>

#include "ui/golden.h"
#include "ui/played_practice.h"

using namespace gripline;

namespace {

PracticeRunConfig with_gestures(Asking asking = Asking::shown, bool planned = false) {
    PracticeRunConfig config;
    config.plan.asking = asking;
    config.plan.planned = planned;
    config.plan.wall_ms = [] { return std::int64_t{1'780'000'000'000}; };
    return config;
}

struct Handed : test::PlayedPractice {
    explicit Handed(const PracticeRunConfig& config = with_gestures()) : PlayedPractice(config) { pass(0.4); }
    [[nodiscard]] std::string grip() const { return run.session().asked()->grip.text(); }
    void strum(const std::optional<PlannedFault>& fault = {}) { sound.strum(*run.session().asked(), fault); }
    /// So many muted strums, evenly, and the pause after them.
    void mute(int strums, double gap_s = 0.45, double after_s = 1.3) {
        for (int i = 0; i < strums; ++i) {
            strum(PlannedFault{PlannedFaultKind::dead_strum});
            pass(i + 1 < strums ? gap_s : after_s);
        }
    }
    [[nodiscard]] int judged() const {
        const PracticeCounts& counts = run.session().counts();
        return counts.right + counts.wrong + counts.unheard;
    }
};

}  // namespace

TEST_CASE("Three muted strums ask the next step, two the same again; neither is an answer") {
    for (const Asking asking : {Asking::shown, Asking::named, Asking::by_ear, Asking::next_step}) {
        for (const bool planned : {false, true}) {
            CAPTURE(word(asking));
            CAPTURE(planned);
            Handed hands(with_gestures(asking, planned));
            hands.pass(6.0);  // what is sounded at first is over
            const std::string first = hands.grip();
            const auto askings = hands.run.session().askings();
            const auto sounded = hands.sound.rows_.size();
            hands.mute(2);
            CHECK(hands.grip() == first);
            CHECK(hands.run.session().askings() == askings + 1);
            CHECK(hands.shows("Two muted strums: again."));
            CHECK((hands.sound.rows_.size() > sounded) == (asking == Asking::by_ear || asking == Asking::next_step));  // sounded again
            CHECK(hands.judged() == 0);
            hands.pass(6.0);
            hands.mute(3);
            CHECK(hands.run.session().steps_done() == 1);
            CHECK(hands.shows("Three muted strums: next."));
            CHECK(hands.judged() == 0);
            CHECK(hands.run.session().state() == PracticeState::listening);
        }
    }
}

TEST_CASE("After a wrong answer two muted strums ask again, and the answer that follows counts") {
    Handed hands;
    const std::string first = hands.grip();
    hands.strum(PlannedFault{PlannedFaultKind::wrong_note, StringNumber(4), 1});
    hands.pass(0.6);
    REQUIRE(hands.run.session().counts().wrong == 1);
    hands.pass(0.8);
    hands.mute(2);
    CHECK(hands.grip() == first);
    CHECK(hands.run.session().state() == PracticeState::listening);
    hands.strum();
    hands.pass(1.0);
    CHECK(hands.run.session().counts().right == 1);
    CHECK(hands.judged() == 2);
}

TEST_CASE("One muted strum alone, and four or more, ask for nothing") {
    Handed hands;
    const auto askings = hands.run.session().askings();
    hands.mute(1, 0.0, 2.5);
    CHECK(hands.run.session().askings() == askings);
    hands.mute(5, 0.4, 2.0);
    CHECK(hands.run.session().askings() == askings);
    CHECK(hands.run.session().steps_done() == 0);
}

TEST_CASE("Playing is no gesture: a muted strum before a grip leaves the grip to be judged at once") {
    Handed hands;
    hands.mute(1, 0.0, 0.5);
    hands.strum();
    hands.pass(0.45);
    CHECK(hands.run.session().counts().right == 1);
    CHECK(hands.judged() == 1);
    hands.pass(2.0);
    hands.mute(2, 0.45, 0.45);
    hands.strum();
    hands.pass(0.5);
    CHECK(hands.run.session().counts().right == 2);
    hands.pass(2.0);
    CHECK(hands.judged() == 2);
    CHECK(hands.run.session().steps_done() == 2);
}

TEST_CASE("Into the target: two muted strums count in again, three go on to the next, also on the counts of approach and target") {
    Handed hands(with_gestures(Asking::into_target));
    const auto askings = hands.run.session().askings();
    hands.mute(2);
    CHECK(hands.run.session().askings() == askings + 1);
    CHECK(hands.sound.clicks_.size() == 9);
    hands.mute(3);
    CHECK(hands.run.session().steps_done() == 1);
    CHECK(hands.judged() == 0);
    hands.pass(1.0);
    const double approach_s = hands.sound.clicks_from_s_ + hands.sound.clicks_.at(7).at_s;
    hands.pass(approach_s - hands.sound.input().stream_s);
    hands.mute(2, 0.6, 1.4);
    CHECK(hands.judged() == 0);
    CHECK(hands.shows("Two muted strums: again."));
    CHECK(hands.run.session().steps_done() == 1);
}

TEST_CASE("What muted strums ask for is chosen, or nothing") {
    auto config = with_gestures(Asking::named);
    config.plan.gestures = {GestureAsks::show, GestureAsks::pause};
    Handed hands(config);
    CHECK_FALSE(hands.run.session().grip_shown());
    hands.mute(2);
    CHECK(hands.run.session().grip_shown());
    hands.mute(3);
    CHECK(hands.run.session().state() == PracticeState::paused);
    hands.mute(2);
    CHECK(hands.run.session().state() == PracticeState::paused);
    hands.mute(3);
    CHECK(hands.run.session().state() == PracticeState::listening);
    config.plan.gestures = {GestureAsks::hear, GestureAsks::nothing};
    Handed other(config);
    other.mute(2);
    CHECK(other.sound.rows_.size() == 1);
    config.plan.gestures = {GestureAsks::nothing, GestureAsks::nothing};
    Handed off(config);
    const auto askings = off.run.session().askings();
    off.mute(3);
    CHECK(off.run.session().askings() == askings);
    CHECK(off.run.session().steps_done() == 0);
}

TEST_CASE("Pause, the tuner and another input forget what was begun") {
    Handed hands;
    const auto done = hands.run.session().steps_done();
    hands.mute(2, 0.45, 0.3);
    hands.key('u');
    hands.pass(0.3);
    hands.key('u');
    hands.pass(2.0);
    CHECK(hands.run.session().steps_done() == done);
    CHECK_FALSE(hands.shows("muted strums: again"));
    hands.key(' ');
    hands.mute(3);
    CHECK(hands.run.session().state() == PracticeState::paused);
    CHECK(hands.run.session().steps_done() == done);
}

TEST_CASE("How to say it without a key stands on the screen where a guitar is the input") {
    Handed hands;
    CHECK_FALSE(hands.shows("Muted strums:"));  // the built-in player makes none
    hands.sound.player_is_input_ = false;
    CHECK(hands.shows("Muted strums: two again, three next."));
    test::check_three_sizes("practice-gestures", CharacterSet::utf8, "", [&](Canvas& canvas) { hands.run.draw(canvas, hands.sound.now_s()); });
    CHECK(Gestures{GestureAsks::nothing, GestureAsks::next}.text() == "Muted strums: three next.");
    CHECK(Gestures{GestureAsks::nothing, GestureAsks::nothing}.text().empty());
    CHECK(parse_gesture("again") == GestureAsks::again);
    CHECK_FALSE(parse_gesture("Again").has_value());
}
