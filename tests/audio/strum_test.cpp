// Strums: which notes sound, when, how loud; and mistakes on purpose.
#include <doctest/doctest.h>

#include <map>
#include <set>

#include "audio/player_source.h"
#include "support/fake_clock.h"
#include "support/tone.h"

using namespace gripline;

namespace {

Grip grip(const char* frets) { return *Grip::parse(frets); }

std::vector<int> numbers(const Strum& strum) {
    std::vector<int> out;
    for (int i = 0; i < strum.count; ++i) out.push_back(strum.struck[static_cast<std::size_t>(i)].note.number());
    return out;
}

Strum planned(const char* frets, const std::optional<PlannedFault>& fault = {}, int capo = 0) {
    const auto strum = plan_strum(grip(frets), Tuning(), capo, fault);
    REQUIRE(strum.ok());
    return *strum;
}

}  // namespace

TEST_CASE("A grip is planned as its notes: G7 shell 3x23xx is G2 E3 Bb3 (the worked grips of common practice)") {
    CHECK(numbers(planned("3x23xx")) == std::vector<int>{43, 52, 58});
    CHECK(numbers(planned("3x23xx", {}, 2)) == std::vector<int>{45, 54, 60});
}

TEST_CASE("Each fault changes what it says and nothing else") {
    CHECK(numbers(planned("3x23xx", PlannedFault{PlannedFaultKind::wrong_note, StringNumber(3), -1})) == std::vector<int>{43, 52, 57});
    CHECK(numbers(planned("3x23xx", PlannedFault{PlannedFaultKind::missing_string, StringNumber(4), 0})) == std::vector<int>{43, 58});
    CHECK(numbers(planned("3x23xx", PlannedFault{PlannedFaultKind::open_string, StringNumber(5), 0})) == std::vector<int>{43, 45, 52, 58});
    CHECK(numbers(planned("3x23xx", PlannedFault{PlannedFaultKind::shifted, StringNumber(1), 2})) == std::vector<int>{45, 54, 60});
    const auto dead = planned("3x23xx", PlannedFault{PlannedFaultKind::dead_strum, StringNumber(1), 0});
    CHECK(dead.struck[0].dead);
    CHECK(describe({PlannedFaultKind::wrong_note, StringNumber(3), -1}) == "string 3 one fret flat");
    CHECK(describe({PlannedFaultKind::shifted, StringNumber(1), 2}) == "the whole grip two frets too high");
}

TEST_CASE("What can't be played is an error that says why") {
    const auto why = [](const char* frets, const std::optional<PlannedFault>& fault) {
        const auto strum = plan_strum(grip(frets), Tuning(), 0, fault);
        REQUIRE_FALSE(strum.ok());
        return strum.error().message;
    };
    CHECK(why("xxxxxx", {}) == "grip xxxxxx sounds no string");
    CHECK(why("3x23xx", PlannedFault{PlannedFaultKind::wrong_note, StringNumber(5), 1}) == "string 5 is muted in grip 3x23xx");
    CHECK(why("3x23xx", PlannedFault{PlannedFaultKind::open_string, StringNumber(6), 0}) == "string 6 is in grip 3x23xx already");
    CHECK(why("3x23xx", PlannedFault{PlannedFaultKind::open_string, StringNumber(9), 0}) == "there is no string 9 (1 to 6)");
    CHECK(why("1x01xx", PlannedFault{PlannedFaultKind::wrong_note, StringNumber(4), -1}) == "string 4: fret -1 is off the neck (0 to 24)");
    CHECK_FALSE(plan_strum(grip("1x01xx"), Tuning(), 0, PlannedFault{PlannedFaultKind::shifted, StringNumber(1), -1}).ok());
    CHECK_FALSE(plan_strum(*Grip::parse("3x23xxx", 7), Tuning()).ok());
}

TEST_CASE("Likely mistakes: an open string most often, then a fret off, then the wrong place; every one can be heard") {
    std::map<PlannedFaultKind, int> counts;
    for (std::uint32_t seed = 0; seed < 2000; ++seed) {
        const auto fault = likely_mistake(grip("3x23xx"), Tuning(), 0, seed);
        REQUIRE(fault.has_value());
        ++counts[fault->kind];
        const auto strum = plan_strum(grip("3x23xx"), Tuning(), 0, fault);
        REQUIRE(strum.ok());
        std::set<int> classes;
        for (const int number : numbers(*strum)) classes.insert(number % 12);
        const bool same = classes == std::set<int>{7, 4, 10} && numbers(*strum).front() % 12 == 7;
        CHECK_FALSE(same);
    }
    CHECK(counts[PlannedFaultKind::open_string] > counts[PlannedFaultKind::wrong_note]);
    CHECK(counts[PlannedFaultKind::wrong_note] > counts[PlannedFaultKind::shifted]);
    CHECK(counts[PlannedFaultKind::shifted] > counts[PlannedFaultKind::missing_string]);
    CHECK(counts[PlannedFaultKind::missing_string] > 0);
    for (std::uint32_t seed = 0; seed < 200; ++seed) {
        const auto fault = likely_mistake(grip("5x55xx"), Tuning(), 0, seed);
        // Open string 1 (E4) is the third partial of A2 on string 6, and open string 5 is that A2 itself: neither can be heard.
        if (fault->kind == PlannedFaultKind::open_string) CHECK(fault->string.number() == 2);
    }
    const auto again = likely_mistake(grip("3x23xx"), Tuning(), 0, 5);
    CHECK(again->kind == likely_mistake(grip("3x23xx"), Tuning(), 0, 5)->kind);
    CHECK_FALSE(likely_mistake(Grip(6), Tuning(), 0, 1).has_value());
}

TEST_CASE("Rendered sound starts quiet: -24 dB peak, no click at either end, and louder only when asked") {
    const auto frames = render_strum(planned("3x23xx"), 48000, 1.0);
    CHECK(frames.size() == 48000);
    CHECK(test::peak_db(frames) == doctest::Approx(-24.0).epsilon(0.001));
    CHECK(frames.front() == 0.0F);
    CHECK(frames.back() == 0.0F);
    CHECK(test::peak_db(render_strum(planned("3x23xx"), 48000, 1.0, -12.0)) == doctest::Approx(-12.0).epsilon(0.001));
    CHECK(render_strum(planned("3x23xx"), 48000, 0.0).empty());
}

TEST_CASE("A strum sounds its notes and no others, string after string in its direction") {
    Strum strum = planned("3x23xx");
    strum.spread_s = 0.05;
    for (const bool down : {true, false}) {
        strum.down = down;
        const auto frames = render_strum(strum, 48000, 1.0);
        const std::span<const float> all(frames);
        const auto level = [&](double hz, double from_s, double to_s) {
            const auto part = all.subspan(static_cast<std::size_t>(from_s * 48000), static_cast<std::size_t>((to_s - from_s) * 48000));
            return std::abs(test::fourier_at(part, hz, 48000)) / static_cast<double>(part.size());
        };
        for (const int number : {43, 52, 58}) CHECK(level(frequency_hz(MidiNote(number)), 0.1, 0.9) > 10.0 * level(frequency_hz(MidiNote(number + 1)), 0.1, 0.9));
        const int first = down ? 43 : 58, last = down ? 58 : 43;
        CHECK(level(frequency_hz(MidiNote(first)), 0.0, 0.05) > level(frequency_hz(MidiNote(last)), 0.0, 0.05));
    }
}

TEST_CASE("A dead strum is a thud: gone within a tenth of a second") {
    const auto frames = render_strum(planned("3x23xx", PlannedFault{PlannedFaultKind::dead_strum, StringNumber(1), 0}), 48000, 0.5);
    CHECK(test::rms_db(std::span(frames).first(1440)) > -50.0);
    CHECK(test::rms_db(std::span(frames).subspan(7200, 4800)) < -90.0);
}

TEST_CASE("The built-in player gives as many frames as have passed on its clock, and the same every time") {
    const auto play = [] {
        const auto clock = std::make_shared<test::FakeClock>();
        PlayerSource player(clock, {.rate_hz = 48000});
        std::vector<float> heard, hop(256);
        clock->set(100.0);
        CHECK(player.read(hop) == 0);
        for (int tick = 0; tick < 100; ++tick) {
            clock->advance(0.01);
            if (tick == 20) CHECK(player.strum(grip("3x23xx"), Tuning()).ok());
            if (tick == 60) CHECK(player.strum(grip("3x23xx"), Tuning(), 0, PlannedFault{PlannedFaultKind::shifted, StringNumber(1), 1}).ok());
            while (const std::size_t got = player.read(hop)) heard.insert(heard.end(), hop.begin(), hop.begin() + static_cast<std::ptrdiff_t>(got));
        }
        CHECK(heard.size() == 48000);
        return heard;
    };
    const auto heard = play();
    CHECK(heard == play());
    const std::span<const float> all(heard);
    CHECK(test::rms_db(all.first(9600)) == doctest::Approx(-66.0).epsilon(0.01));
    CHECK(test::rms_db(all.subspan(10080, 9600)) > -40.0);
    CHECK(test::peak_db(all) < -6.0);
    const auto level = [&](int number, std::size_t from) { return std::abs(test::fourier_at(all.subspan(from, 14400), frequency_hz(MidiNote(number)), 48000)); };
    CHECK(level(43, 12000) > 5.0 * level(44, 12000));
    CHECK(level(44, 32000) > 5.0 * level(43, 32000));
}

TEST_CASE("A machine that slept for an hour doesn't make the player owe an hour of sound") {
    const auto clock = std::make_shared<test::FakeClock>();
    PlayerSource player(clock);
    std::vector<float> hop(256);
    player.read(hop);
    clock->advance(3600.0);
    std::size_t frames = 0;
    while (const std::size_t got = player.read(hop)) frames += got;
    CHECK(frames == 48000);
}

TEST_CASE("More strums than the player can keep are refused with words") {
    PlayerSource player(std::make_shared<test::FakeClock>());
    for (int i = 0; i < 16; ++i) CHECK(player.strum(grip("3x23xx"), Tuning()).ok());
    CHECK(player.strum(grip("3x23xx"), Tuning()).error().message == "the built-in player is still busy with 16 strums: wait a moment");
}
