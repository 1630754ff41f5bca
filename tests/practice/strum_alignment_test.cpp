#include <doctest/doctest.h>

#include <cmath>

#include "practice/quiz_fixture.h"
#include "practice/seeded_draw.h"
#include "practice/strum_alignment.h"

using namespace gripline;

namespace {

/// A strum that sounds these grips' notes, all equally strong.
StrumSketch sounding(const Grip& grip, double onset_s) {
    StrumSketch out;
    out.onset_s = onset_s;
    const auto notes = grip.notes(Tuning());
    for (const GripNote& note : notes) out.strengths[static_cast<std::size_t>(note.note.pitch_class().value())] += 1.0F / static_cast<float>(notes.size());
    out.bass = notes.front().note.pitch_class();
    return out;
}

/// Sixteen different grips, and what is asked of them.
std::vector<Grip> grips() {
    std::vector<Grip> out;
    const std::vector<QuizQuestion> questions = draw_questions(test::shells_quiz(), "").value();
    for (const QuizQuestion& question : questions) out.push_back(question.step.grip);
    return out;
}

std::vector<AlignmentTarget> targets(double count_s = 0.0) {
    std::vector<AlignmentTarget> out;
    for (const Grip& grip : grips()) {
        Target target;
        target.grip = grip;
        out.push_back(alignment_target(target, count_s * static_cast<double>(out.size())));
    }
    return out;
}

}  // namespace

TEST_CASE("A grip is wholly like itself, less like one with a note off, and not at all like silence") {
    const Grip grip = Grip::parse("8x89xx").value();
    Target target;
    target.grip = grip;
    const auto asked = alignment_target(target);
    CHECK(likeness(sounding(grip, 0.0), asked) == doctest::Approx(1.0));
    const double one_off = likeness(sounding(Grip::parse("8x88xx").value(), 0.0), asked);
    CHECK(one_off > 0.5);
    CHECK(one_off < 0.9);
    CHECK(likeness(StrumSketch{}, asked) == 0.0);
}

TEST_CASE("In order: each question gets its strum, also with strums before, after and between, answers left out and notes off") {
    SeededDraw draw(3);
    int all_astray = 0;
    for (int round = 0; round < 200; ++round) {
        std::vector<StrumSketch> strums;
        std::vector<std::optional<std::size_t>> truth;
        double now_s = 0.0;
        const auto noise = [&] { strums.push_back(sounding(Grip::parse("022100").value(), now_s += 1.0)); };  // an open chord, as when trying the sound
        for (std::size_t i = draw.below(4); i > 0; --i) noise();
        for (const Grip& grip : grips()) {
            if (draw.below(12) == 0) {
                truth.emplace_back();  // left out
                continue;
            }
            Grip played = grip;
            if (draw.below(6) == 0) {  // a note one fret sharp on string 3, as players err
                if (const auto fret = played.fret(StringNumber(3))) played.set(StringNumber(3), fret->up(1));
            }
            truth.emplace_back(strums.size());
            strums.push_back(sounding(played, now_s += 1.0));
        }
        for (std::size_t i = draw.below(4); i > 0; --i) noise();
        const auto found = align_in_order(targets(), strums);
        REQUIRE(found.size() == truth.size());
        int astray = 0;
        for (std::size_t i = 0; i < truth.size(); ++i) astray += found[i] != truth[i] ? 1 : 0;
        CHECK(astray <= 3);  // beside an answer left out a neighbour's wrong strum may do as well as any; the whole never slips
        all_astray += astray;
    }
    CHECK(all_astray <= 32);  // 1 % of the answers
    MESSAGE(all_astray << " of 3200 answers went astray");
}

TEST_CASE("In order: all right, nothing left out: no question goes astray") {
    std::vector<StrumSketch> strums;
    for (const Grip& grip : grips()) strums.push_back(sounding(grip, static_cast<double>(strums.size())));
    const auto found = align_in_order(targets(), strums);
    for (std::size_t i = 0; i < found.size(); ++i) CHECK(found[i] == i);
    CHECK(align_in_order(targets(), {}) == std::vector<std::optional<std::size_t>>(16));
    CHECK(align_in_order({}, strums).empty());
}

TEST_CASE("In time: the start is found and every beat lies within a quarter of a count, with noise before, a late tempo, missing first beats and wrong notes") {
    SeededDraw draw(5);
    for (int round = 0; round < 100; ++round) {
        CAPTURE(round);
        const double start_s = 3.0 + 0.37 * static_cast<double>(draw.below(20)), stretch = 0.98 + 0.005 * static_cast<double>(draw.below(9));
        std::vector<StrumSketch> strums;
        for (double at_s = 0.3; at_s < start_s - 1.0; at_s += 0.9) strums.push_back(sounding(Grip::parse("022100").value(), at_s));
        const std::size_t missing = draw.below(3);
        const auto all = grips();
        for (std::size_t i = missing; i < all.size(); ++i) {
            const double human_s = (static_cast<double>(draw.below(41)) - 20.0) / 1000.0;
            if (draw.below(10) == 0) continue;
            strums.push_back(sounding(draw.below(5) == 0 ? Grip::parse("5x55xx").value() : all[i], start_s + 0.5 * stretch * static_cast<double>(i) + human_s));
        }
        const auto place = align_in_time(targets(0.5), strums, 0.5);
        REQUIRE(place.has_value());
        // Every beat lies nearer to its true time than a quarter of a count.
        for (std::size_t i = 0; i < all.size(); ++i) {
            const double beat_s = 0.5 * static_cast<double>(i);
            CHECK(std::abs(place->start_s + beat_s * place->stretch - (start_s + beat_s * stretch)) < 0.125);
        }
    }
    CHECK_FALSE(align_in_time(targets(0.5), {}, 0.5).has_value());
}
