// "Name it" on the screen: what sounds, what is shown, what is kept.
#include <doctest/doctest.h>

#include <cstdlib>

#include "ui/golden.h"
#include "ui/name_it_run.h"
#include "ui/played_sound.h"

using namespace gripline;

namespace {

Exercise pool_of(std::vector<NameQuestion> questions) {
    Course course;
    course.stage = StageKind::drop3;
    course.strings = string_sets(StageKind::drop3, 6).front();
    Pins pins;
    pins.key = PitchClass(0);
    return make_name_it(course, {}, 440.0, pins, questions).value();
}

NameItConfig asked(std::vector<NameQuestion> questions) {
    NameItConfig config;
    config.pool = pool_of(std::move(questions));
    config.plan.wall_ms = [] { return std::int64_t{1'780'000'000'000}; };
    return config;
}

struct Naming {
    test::PlayedSound sound;
    NameItRun run;
    explicit Naming(NameItConfig config) : run(std::move(config), sound, 0.0) { pass(0.1); }
    void pass(double seconds) {
        sound.advance(seconds, [&](double now_s) { run.listen(now_s); });
    }
    void key(char character) { run.press({character, SpecialKey::none}, sound.now_s(), 80, 24); }
    void answer(bool right) {
        const PracticeStep& step = *run.session().asked();
        const std::size_t choice = (right_choice(step) + (right ? 0 : 1)) % choices_for(step).size();
        key(static_cast<char>('a' + static_cast<char>(choice)));
    }
    [[nodiscard]] bool shows(const std::string& words) const {
        Canvas canvas(80, 24, CharacterSet::ascii);
        run.draw(canvas, sound.now_s());
        return canvas.text().find(words) != std::string::npos;
    }
    void golden(const std::string& name) const {
        test::check_three_sizes(name, CharacterSet::utf8, "", [&](Canvas& canvas) { run.draw(canvas, sound.now_s()); });
        test::check_three_sizes(name, CharacterSet::ascii, "-ascii", [&](Canvas& canvas) { run.draw(canvas, sound.now_s()); });
    }
};

}  // namespace

TEST_CASE("The grip sounds by itself; its quality is answered by one key, and told at once with what it was") {
    Naming naming(asked({NameQuestion::quality}));
    REQUIRE(naming.sound.rows_.size() == 1);
    CHECK(naming.sound.rows_[0].size() == 1);
    const PracticeStep step = *naming.run.session().asked();
    CHECK(!naming.shows(step.grip.text()));
    CHECK(!naming.shows(step.chord + " with"));
    CHECK(naming.shows("Which quality?"));
    CHECK(naming.shows("e  dim7, diminished seventh"));
    CHECK(naming.shows("Sounding"));
    naming.pass(2.0);
    CHECK(naming.shows("Your answer"));
    naming.golden("name-it-quality");
    naming.answer(true);
    CHECK(naming.shows("Right: "));
    CHECK(naming.shows(step.grip.text()));
    CHECK(naming.shows("quality 1 of 1"));
    naming.golden("name-it-right");
    naming.pass(2.0);
    CHECK(naming.shows("question 2"));
    CHECK(naming.sound.rows_.size() == 2);
    naming.answer(false);
    CHECK(naming.shows("Wrong: it was "));
    CHECK(naming.shows("you answered"));
    CHECK(naming.shows("quality 1 of 2"));
    naming.golden("name-it-wrong");
}

TEST_CASE("A degree is asked after the key's cadence; it sounds again whole, bass first, note by note, and with its key") {
    Naming naming(asked({NameQuestion::bass_degree}));
    REQUIRE(naming.sound.rows_.size() == 1);
    CHECK(naming.sound.rows_[0].size() == 3);
    CHECK(naming.shows("Which degree of C "));
    naming.pass(4.0);
    naming.golden("name-it-degree");
    for (const char key : {' ', 'j', 'l', 'k'}) naming.key(key);
    REQUIRE(naming.sound.rows_.size() == 5);
    CHECK(naming.sound.rows_[1].size() == 1);
    CHECK(naming.sound.rows_[2].size() == 2);
    CHECK(naming.sound.rows_[3].size() == 5);
    CHECK(naming.sound.rows_[4].size() == 3);
    naming.answer(false);
    naming.key(' ');  // heard again, the answer stays while it sounds
    CHECK(naming.sound.rows_.size() == 6);
    CHECK(naming.shows("Wrong: it was"));
    naming.key('n');
    naming.pass(0.1);
    CHECK(naming.shows("question 2"));
}

TEST_CASE("An approach and its target: the side is asked, two answers") {
    Naming naming(asked({NameQuestion::approach_direction}));
    REQUIRE(naming.sound.rows_.size() == 1);
    CHECK(naming.sound.rows_[0].size() == 2);
    CHECK(naming.shows("a  from below"));
    CHECK(naming.shows("b  from above"));
    naming.pass(3.0);
    naming.golden("name-it-side");
    naming.key('c');
    CHECK(naming.shows("No answer stands beside that key."));
    naming.answer(true);
    CHECK(naming.shows(", into "));
}

TEST_CASE("Planned: why is told, the session ends after its questions with five lines") {
    NameItConfig config = asked({});
    config.plan.planned = true;
    config.plan.steps = 3;
    Naming naming(std::move(config));
    CHECK(naming.shows("Why this: new"));
    CHECK(naming.shows(", planned"));
    for (int i = 0; i < 3; ++i) {
        naming.answer(true);
        naming.pass(8.0);
    }
    CHECK(naming.shows("The session is over"));
    CHECK(naming.shows("3 steps; right at the first try: 3 of 3."));
    naming.key(' ');
    CHECK(naming.run.over());
}

TEST_CASE("Help, cautions, a break, a lost output and a key without a meaning are told; every size is drawn") {
    NameItConfig config = asked({});
    config.show_cautions = true;
    config.plan.break_after_min = 0.1;
    Naming naming(std::move(config));
    CHECK(naming.shows("Before the first sound"));
    CHECK(naming.sound.rows_.empty());
    naming.key(' ');
    naming.pass(0.1);
    CHECK(naming.sound.rows_.size() == 1);
    CHECK(naming.run.cautions_read());
    naming.key('z');
    CHECK(naming.shows("Key z does nothing here"));
    naming.key('?');
    CHECK(naming.shows("bass first"));
    naming.key(' ');
    naming.pass(7.0);
    CHECK(naming.shows("A break is due"));
    naming.sound.output_ = false;
    CHECK(naming.shows("there is no output"));
    for (int columns = 0; columns <= 130; columns += 3) {
        for (int rows = 0; rows <= 45; ++rows) {
            Canvas canvas(columns, rows, CharacterSet::ascii);
            naming.run.draw(canvas, naming.sound.now_s());
        }
    }
    naming.key('q');
    CHECK(naming.run.over());
}
