// The worked grips of the C dominant-seventh family, common practice (no source), and what a chord that makes no sense gets.
#include <doctest/doctest.h>

#include <nlohmann/json.hpp>
#include <algorithm>
#include <random>
#include <sstream>

#include "cli/run.h"

using namespace gripline;
using namespace gripline::test;

namespace {

/// The field of every line of JSON.
std::vector<std::string> fields(const std::string& lines, const std::string& name) {
    std::vector<std::string> out;
    std::istringstream in(lines);
    for (std::string line; std::getline(in, line);) {
        const auto value = nlohmann::json::parse(line)[name];
        out.push_back(value.is_string() ? value.get<std::string>() : value.dump());
    }
    return out;
}

}  // namespace

TEST_CASE("grips C7 prints the shells and drop 3 grips of the C dominant-seventh family") {
    const Run shell = run({"grips", "C7", "--stage", "shell", "--json"});
    REQUIRE(shell.status == 0);
    CHECK(fields(shell.out, "grip") == std::vector<std::string>{"8x89xx", "10-x-9-10-x-x", "12-x-10-12-x-x", "1x01xx", "3x23xx", "4x34xx", "6x55xx", "7x67xx"});
    CHECK(fields(shell.out, "bass") == std::vector<std::string>{"C", "D", "E", "F", "G", "Ab", "Bb", "B"});
    const Run drop = run({"grips", "C7", "--stage", "drop-3", "--json"});
    CHECK(fields(drop.out, "grip") == std::vector<std::string>{"8x898x", "10-x-9-10-9-x", "12-x-10-12-11-x", "1x010x", "3x231x", "4x343x", "6x555x", "7x676x"});
}

TEST_CASE("the table for a person holds the same grips, with diagrams") {
    const Run shell = run({"grips", "C7", "--stage", "shell"});
    CHECK(shell.status == 0);
    CHECK(shell.err.empty());
    for (const char* text : {"C dominant seventh", "8x89xx", "10-x-9-10-x-x", "C3 Bb3 E4", "6 5 4 3 2 1"}) CHECK(shell.out.find(text) != std::string::npos);
    CHECK(run({"grips", "C7", "--stage", "shell", "--left-handed"}).out.find("1 2 3 4 5 6") != std::string::npos);
    std::istringstream lines(run({"grips", "C7"}).out);
    for (std::string line; std::getline(lines, line);) {
        const auto columns = std::count_if(line.begin(), line.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; });
        if (line.find('(') == std::string::npos) CHECK(columns <= 80);
    }
}

TEST_CASE("a family asked for is laid on the chord's own scale of that family, or on its root") {
    CHECK(fields(run({"grips", "Am7", "--stage", "shell", "--json"}).out, "scale").front() == "C");  // Am7 holds the notes of C6
    CHECK(fields(run({"grips", "C7", "--family", "minor-sixth", "--stage", "shell", "--json"}).out, "scale").front() == "G");
    CHECK(fields(run({"grips", "C7", "--family", "major-sixth", "--stage", "shell", "--json"}).out, "scale").front() == "C");
}

TEST_CASE("what makes no sense is refused with the word that was wrong") {
    const std::vector<std::vector<std::string>> must_fail{
        {"grips", "Cmja7"}, {"grips", "H7"}, {"grips", ""}, {"grips", "C7", "--family", "sixth"}, {"grips", "C7", "--stage", "drop-4"}, {"grips", "C7", "--strings", "9-9"},
        {"grips", "C7", "--stage", "shell", "--strings", "1"}, {"grips", "C7", "--tuning", "E2 Q9"}, {"grips", "C7", "--tuning", ""}};
    for (const auto& words : must_fail) {
        CAPTURE(words.back());
        const Run refused = run(words);
        CHECK(refused.status == 1);
        CHECK(refused.out.empty());
        CHECK(refused.err.starts_with("gripline: "));
    }
}

TEST_CASE("garbage as a chord, a tuning or a string set never crashes") {
    std::mt19937 random(26);  // NOLINT: the same garbage every time
    const std::string alphabet = "ABCDEFGabdgijmnosu0123456789#b/()+-^%:,x* \xE2\x99\xAD\xC3\xB8";
    for (int round = 0; round < 300; ++round) {
        std::string text = round % 2 == 0 ? "C" : "";
        for (unsigned length = random() % 10; length > 0; --length) text += random() % 8 == 0 ? static_cast<char>(1 + random() % 255) : alphabet[random() % alphabet.size()];
        const std::vector<std::vector<std::string>> tries{{"grips", "--stage", "shell", "--json", "--", text},
                                                          {"grips", "C7", "--stage", "shell", "--json", "--tuning=" + text},
                                                          {"grips", "C7", "--stage", "shell", "--json", "--strings=" + text}};
        for (const auto& words : tries) {
            const Run answered = run(words);
            CHECK(answered.status <= 2);
            CHECK(answered.status >= 0);
            CHECK((answered.status == 0) == answered.err.empty());
        }
    }
}
