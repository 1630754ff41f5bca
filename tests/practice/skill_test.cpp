// The border between history, learner model and statistics: attempts and the skills they train.
#include <doctest/doctest.h>

#include <set>

#include "practice/skill.h"

using namespace gripline;

TEST_CASE("an attempt at an approach into Bb7 from above trains that approach in Bb, as it was asked") {
    Attempt attempt;
    attempt.root = NoteName::parse("Bb").value();
    attempt.quality = "7";
    attempt.place = Sounds::approach;
    attempt.from = From::above;
    attempt.asking = Asking::named;
    CHECK(skill_of(attempt).text() == "7 / approach / above / Bb / 6-4-3 / named");
}

TEST_CASE("a side is part of the skill only where there is an approach; A# and Bb are one key") {
    Attempt attempt;
    attempt.root = NoteName::parse("A#").value();
    attempt.from = From::below;
    attempt.place = Sounds::passing;
    CHECK(skill_of(attempt).text() == "7 / passing / - / Bb / 6-4-3 / shown");
}

TEST_CASE("every skill's text reads back as the same skill") {
    std::set<std::string> texts;
    int made = 0;
    for (const char* quality : {"", "7", "m7", "m7b5", "6"}) {
        for (const auto role : {Sounds::chord, Sounds::passing, Sounds::approach}) {
            for (int side = 0; side < (role == Sounds::approach ? 3 : 1); ++side) {
                for (int key = 0; key < 12; ++key) {
                    for (int asking = 0; asking < kAskings; ++asking) {
                        Skill skill;
                        skill.quality = quality;
                        skill.role = role;
                        if (side > 0) skill.from = side == 1 ? From::below : From::above;
                        skill.key = PitchClass(key);
                        skill.strings = "5-3-2";
                        skill.asking = static_cast<Asking>(asking);
                        texts.insert(skill.text());
                        ++made;
                        const auto read = parse_skill(skill.text());
                        REQUIRE_MESSAGE(read.ok(), skill.text());
                        CHECK(*read == skill);
                    }
                }
            }
        }
    }
    CHECK(static_cast<int>(texts.size()) == made);
}

TEST_CASE("texts that are no skills are refused with the value and what is allowed") {
    const struct { const char* text; const char* says; } rows[] = {
        {"", "six parts"},
        {"7 / chord / - / C / 6-4-3", "six parts"},
        {"7 / chord / - / C / 6-4-3 / shown / more", "six parts"},
        {" / chord / - / C / 6-4-3 / shown", "1 to 32 bytes"},
        {"7 / tune / - / C / 6-4-3 / shown", "unknown role \"tune\"; allowed: chord, passing, approach"},
        {"7 / approach / left / C / 6-4-3 / shown", "unknown side \"left\""},
        {"7 / chord / above / C / 6-4-3 / shown", "only an approach"},
        {"7 / chord / - / H / 6-4-3 / shown", "H"},
        {"7 / chord / - / C / 6-9-3 / shown", "6-9-3"},
        {"7 / chord / - / C / 6-4-3 / sung", "unknown way of asking \"sung\""},
    };
    for (const auto& row : rows) {
        const auto read = parse_skill(row.text);
        CAPTURE(row.text);
        REQUIRE(!read.ok());
        CHECK_MESSAGE(read.error().message.find(row.says) != std::string::npos, read.error().message);
    }
}

TEST_CASE("ways of asking read back, with spaces or hyphens") {
    for (int i = 0; i < kAskings; ++i) CHECK(parse_asking(word(static_cast<Asking>(i))).value() == static_cast<Asking>(i));
    CHECK(parse_asking("into-the-target").value() == Asking::into_target);
    CHECK(!parse_asking("SHOWN").ok());
}

TEST_CASE("an attempt belongs to the day of the player's own clock") {
    // 2026-03-01 23:30 UTC is day 20513 (date --date=@1772407800); an hour east it is already the next.
    constexpr std::int64_t at_ms = 1'772'407'800'000;
    CHECK(day_of(at_ms, 0) == 20513);
    CHECK(day_of(at_ms, 60) == 20514);
    CHECK(day_of(at_ms, -24 * 60 + 29) == 20512);
    CHECK(day_of(-1, 0) == -1);
}
