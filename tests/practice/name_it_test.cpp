// Naming what the tool plays, on the keyboard.
#include <doctest/doctest.h>

#include <map>
#include <set>

#include "practice/attempt_check.h"
#include "practice/name_it.h"

using namespace gripline;

namespace {

Course drop3() {
    Course course;
    course.stage = StageKind::drop3;
    course.strings = string_sets(StageKind::drop3, 6).front();
    return course;
}

Exercise pool_of(std::vector<NameQuestion> questions, const Course& course = drop3()) { return make_name_it(course, {}, 440.0, {}, questions).value(); }

/// The first question whose grip is that.
const PracticeStep& step_with(const Exercise& pool, const std::string& grip, const std::string& root) {
    for (const PracticeStep& step : pool.steps)
        if (step.grip.text() == grip && step.asked.root.text() == root) return step;
    FAIL("no " << grip);
    return pool.steps.front();
}

}  // namespace

TEST_CASE("The worked drop-3 grips of C dominant seventh: their degrees in the bass (common practice, no source)") {
    const Exercise pool = pool_of({NameQuestion::bass_degree});
    const std::map<std::string, std::string> degrees = {{"8x898x", "1"}, {"10-x-9-10-9-x", "2"}, {"1x010x", "4"}, {"3x231x", "5"}, {"4x343x", "b6"}, {"6x555x", "b7"}, {"7x676x", "7"}};
    int found = 0;
    for (const PracticeStep& step : pool.steps) {
        if (step.asked.root.text() != "C" || step.asked.family != Family::dominant_seventh) continue;
        const auto degree = degrees.find(step.grip.text());
        if (degree == degrees.end()) continue;
        ++found;
        const auto choices = choices_for(step);
        REQUIRE(choices.size() == 8);
        CHECK(choices[right_choice(step)].answer == degree->second);
        CHECK(choices.front().answer == "1");
        CHECK(choices.back().answer == "7");
    }
    CHECK(found == 7);
}

TEST_CASE("Four notes tell every quality; the choices are the four families and the diminished seventh") {
    const Exercise pool = pool_of({NameQuestion::quality});
    std::map<std::string, int> asked;
    for (const PracticeStep& step : pool.steps) {
        const auto choices = choices_for(step);
        REQUIRE(choices.size() == 5);
        ++asked[choices[right_choice(step)].answer];
    }
    CHECK(asked.size() == 5);
    for (const auto& [quality, count] : asked) CHECK(count >= 40);
    CHECK(step_with(pool, "8x898x", "C").asked.quality == "7");
    CHECK(choices_for(pool.steps.front())[1].words == "m6, minor sixth");
}

TEST_CASE("No shell tells its quality: C Bb E fits C7 and C7b5, C A E fits C6 and Am6; so of shells only degrees and sides are asked") {
    const Course shells;
    const auto refused = make_name_it(shells, {}, 440.0, {}, {NameQuestion::quality});
    REQUIRE(!refused);
    CHECK(refused.error().message.find("a shell's three notes fit several qualities") != std::string::npos);
    const Exercise pool = pool_of({}, shells);
    for (const PracticeStep& step : pool.steps) CHECK(question_of(step) != NameQuestion::quality);
    // The same by hand, from the chords' intervals (Harte et al. 2005): the bass, the chord tone below it an octave up, the one above it.
    const std::map<std::string, std::vector<int>> chords = {{"6", {0, 4, 7, 9}}, {"m6", {0, 3, 7, 9}}, {"7", {0, 4, 7, 10}}, {"7b5", {0, 4, 6, 10}}, {"dim7", {0, 3, 6, 9}}};
    std::map<std::pair<int, int>, std::set<std::string>> fits;
    for (const auto& [quality, tones] : chords)
        for (std::size_t i = 0; i < 4; ++i) fits[{(tones[(i + 3) % 4] - tones[i] + 12) % 12, (tones[(i + 1) % 4] - tones[i] + 12) % 12}].insert(quality);
    for (const auto& [shape, qualities] : fits) CHECK(qualities.size() > 1);
}

TEST_CASE("What sounds: a grip alone; after a cadence; an approach and then its target") {
    const Exercise pool = pool_of({});
    for (const NameQuestion question : {NameQuestion::quality, NameQuestion::bass_degree, NameQuestion::approach_direction}) {
        const auto step = std::find_if(pool.steps.begin(), pool.steps.end(), [&](const PracticeStep& each) { return question_of(each) == question; });
        REQUIRE(step != pool.steps.end());
        const bool two = question == NameQuestion::approach_direction;
        CHECK(name_it_sounds(*step, PromptStyle::together, false).size() == (two ? 2U : 1U));
        CHECK(name_it_sounds(*step, PromptStyle::together, true).size() == (two ? 4U : 3U));
        CHECK(name_it_sounds(*step, PromptStyle::note_by_note, false).size() == (two ? 10U : 5U));
    }
}

TEST_CASE("The side of every approach is the one its bass moves from") {
    const Exercise pool = pool_of({NameQuestion::approach_direction});
    int below = 0;
    for (const PracticeStep& step : pool.steps) {
        const auto row = name_it_sounds(step, PromptStyle::together, false);
        const int rise = row[1].step.notes().front().note.number() - row[0].step.notes().front().note.number();
        CHECK(choices_for(step)[right_choice(step)].answer == (rise == 1 ? "below" : "above"));
        below += rise == 1;
    }
    CHECK(below > static_cast<int>(pool.steps.size()) / 3);
    CHECK(below < 2 * static_cast<int>(pool.steps.size()) / 3);
}

TEST_CASE("Answers are told at once, counted by question, and kept with question and answer") {
    NameItSession session(pool_of({NameQuestion::quality}), 1, 10.0);
    const std::size_t right = right_choice(*session.asked());
    CHECK(!session.answer(5, 11.0));  // there is no sixth choice
    CHECK(session.answer(right, 12.5));
    CHECK(session.state() == NameItState::right_shown);
    CHECK(!session.answer(right, 12.6));
    session.pass(13.0);
    CHECK(session.state() == NameItState::right_shown);
    session.pass(14.2);
    CHECK(session.state() == NameItState::asking);
    const std::string asked = session.asked()->asked.quality;
    const std::size_t wrong = (right_choice(*session.asked()) + 1) % 5;
    CHECK(session.answer(wrong, 15.2));
    CHECK(session.state() == NameItState::wrong_shown);
    session.stay_until(40.0);
    session.pass(30.0);
    CHECK(session.state() == NameItState::wrong_shown);
    session.pass(40.0);
    CHECK(session.state() == NameItState::asking);
    CHECK(session.count(NameQuestion::quality).right == 1);
    CHECK(session.count(NameQuestion::quality).of == 2);
    auto first = session.take_attempt(), second = session.take_attempt();
    REQUIRE(first);
    REQUIRE(second);
    CHECK(!session.take_attempt());
    CHECK(first->verdict == VerdictKind::right);
    CHECK(first->answer_s.value() == doctest::Approx(2.5));
    CHECK(second->verdict == VerdictKind::wrong);
    CHECK(second->asking == Asking::name_it);
    CHECK(second->question == "quality");
    CHECK(second->quality == asked);
    CHECK(second->answered != asked);
    CHECK(second->faults.empty());
    second->player = "A";
    second->at_ms = 1'793'534'400'000;
    CHECK(!check(*second));
}

TEST_CASE("Pins that leave one answer, or none, ask nothing") {
    Pins pins;
    pins.qualities = {"7"};
    const auto pool = make_name_it(drop3(), {}, 440.0, pins, {});
    REQUIRE(pool);
    for (const PracticeStep& step : pool->steps) CHECK(question_of(step) != NameQuestion::quality);
    CHECK(!make_name_it(drop3(), {}, 440.0, pins, {NameQuestion::quality}));
    pins.from = From::above;
    CHECK(!make_name_it(drop3(), {}, 440.0, pins, {}));
    Course scale;
    scale.stage = StageKind::scale;
    CHECK(!make_name_it(scale, {}, 440.0, {}, {}));
    CHECK(parse_name_question("bass-degree").value() == NameQuestion::bass_degree);
    CHECK(!parse_name_question("colour"));
}
