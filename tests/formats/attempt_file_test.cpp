// Attempts as CSV and JSON. RFC 4180 (2005) and RFC 8259 (2017) are read by Python's csv and json in tests/cli/history_test.cpp.
#include <doctest/doctest.h>

#include <random>
#include <sstream>
#include <tuple>

#include "formats/attempt_fields.h"
#include "formats/attempt_file.h"
#include "practice/attempt_fixture.h"

using namespace gripline;
using namespace gripline::test;

namespace {

std::string written(const std::vector<Attempt>& attempts, AttemptFileKind kind) {
    std::ostringstream out;
    AttemptWriter writer(out, kind);
    for (const Attempt& attempt : attempts) writer.write(attempt);
    return out.str();
}

struct ReadBack {
    std::vector<Attempt> attempts;
    std::string error;
};
ReadBack read_back(const std::string& text) {
    std::istringstream in(text);
    ReadBack out;
    const auto read = read_attempts(in, [&out](Attempt attempt) {
        out.attempts.push_back(std::move(attempt));
        return std::optional<Error>();
    });
    if (!read) out.error = read.error().message;
    return out;
}

/// The value of a field replaced, or the field taken away when `value` is empty.
std::string changed(const std::string& field, const std::string& value) {
    auto fields = nlohmann::ordered_json::parse(written({simple_attempt("A", kNovember_ms)}, AttemptFileKind::json));
    if (value.empty()) fields.erase(field);
    else fields[field] = nlohmann::ordered_json::parse(value);
    return fields.dump();
}

}  // namespace

TEST_CASE("Attempts of every kind come back equal, field by field, from both kinds of file") {
    std::mt19937 random(11);
    std::vector<Attempt> attempts;
    for (int i = 0; i < 500; ++i) attempts.push_back(random_attempt(random));
    for (const char* name : {"=1+2", "'quoted", "a, \"b\"; c", " blank ", "-7"}) {
        attempts.push_back(random_attempt(random));
        attempts.back().guitar = name;
    }
    for (const AttemptFileKind kind : {AttemptFileKind::csv, AttemptFileKind::json}) {
        const ReadBack back = read_back(written(attempts, kind));
        REQUIRE(back.error == "");
        REQUIRE(back.attempts.size() == attempts.size());
        for (std::size_t i = 0; i < attempts.size(); ++i) CHECK(all_of(back.attempts[i]) == all_of(attempts[i]));
    }
}

TEST_CASE("No field of the table begins as a formula") {
    Attempt a = simple_attempt("@SUM(A1)", kNovember_ms);
    a.guitar = "=1+2";
    const std::string text = written({a}, AttemptFileKind::csv);
    CHECK(text.find(",'@SUM(A1),'=1+2,") != std::string::npos);
}

TEST_CASE("Times as RFC 3339 (2002), section 5.8, writes them") {
    const std::pair<const char*, std::int64_t> examples[] = {{"1985-04-12T23:20:50.52Z", 482196050520}, {"1996-12-19T16:39:57-08:00", 851042397000}, {"1990-12-31T15:59:60-08:00", 662688000000}, {"1937-01-01T12:00:27.87+00:20", -1041337172130}};
    for (const auto& [text, ms] : examples) CHECK(parse_time(text).value().at_ms == ms);  // milliseconds by Python's datetime, the leap second as the one after
    CHECK(time_text(851042397000, -480) == "1996-12-19T16:39:57.000-08:00");
    for (const char* text : {"", "2026-11-25", "2026-02-30T00:00:00Z", "2026-11-25T24:00:00Z", "2026-11-25T08:15:30", "2026-11-25T08:15:30.Z", "2026-11-25T08:15:30+1:00", "yesterday"}) {
        CAPTURE(text);
        CHECK(!parse_time(text).ok());
    }
}

TEST_CASE("What is wrong is told with line, field, value and what is allowed") {
    const std::tuple<const char*, const char*, const char*> cases[] = {
        {"verdict", "\"maybe\"", "verdict: \"maybe\" is not known; right, wrong, unheard are"}, {"confidence", "1.5", "confidence: 1.5 is out of range"}, {"player", "", "player: is missing"},
        {"at", "\"noon\"", "at: \"noon\" is no time"},       {"grip", "\"8x8\"", "grip"},  {"heard", "[60, \"C\"]", "heard: holds \"C\""}, {"heard", "[400]", "note heard"},
        {"try_number", "0", "try_number: 0 is out of range"}, {"motion", "\"left\"", "motion: \"left\""}, {"id", "\"xyz\"", "id \"xyz\""}, {"helped", "1", "helped: is 1"},
        {"faults", "[{\"kind\": \"odd\"}]", "faults[0].kind"}, {"from", "\"below\"", "only an approach has a side"}, {"player", "\"a\\u0007\"", "control character"}};
    for (const auto& [field, value, told] : cases) {
        CAPTURE(field);
        const ReadBack back = read_back(changed("grip", "\"8x89xx\"") + "\n\n" + changed(field, value));
        CHECK(back.attempts.size() == 1);
        CHECK(back.error.starts_with("line 3: "));
        CHECK_MESSAGE(back.error.find(told) != std::string::npos, back.error);
    }
    CHECK(read_back("").error.find("empty") != std::string::npos);
    CHECK(read_back("a,b\r\n1,2\r\n").error.find("columns are missing: at, player") != std::string::npos);
    CHECK(read_back("{\"at\": ").error.find("is no JSON") != std::string::npos);
}

TEST_CASE("Without ids the same rows get the same ids, and different rows different ones") {
    const std::string one = changed("id", "null"), other = changed("id", "null").replace(changed("id", "null").find("\"A\""), 3, "\"B\"");
    const ReadBack back = read_back(one + "\n" + one + "\n" + other);
    REQUIRE(back.attempts.size() == 3);
    CHECK(back.attempts[0].id.size() == 32);
    CHECK(back.attempts[0].id == back.attempts[1].id);
    CHECK(back.attempts[0].id != back.attempts[2].id);
}

TEST_CASE("Files broken at any byte, seeded, are read to an error or to attempts within the limits, never further") {
    std::mt19937 random(3);
    std::vector<Attempt> attempts;
    for (int i = 0; i < 4; ++i) attempts.push_back(random_attempt(random));
    for (const AttemptFileKind kind : {AttemptFileKind::csv, AttemptFileKind::json}) {
        const std::string whole = written(attempts, kind);
        for (int i = 0; i < 2000; ++i) {
            std::string broken = whole;
            for (int changes = 1 + static_cast<int>(random() % 3); changes > 0; --changes) broken[random() % broken.size()] = static_cast<char>(random());
            if (random() % 4 == 0) broken.resize(random() % broken.size());
            const ReadBack back = read_back(broken);
            CHECK(back.attempts.size() <= attempts.size());
        }
    }
}
