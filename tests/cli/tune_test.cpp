// gripline tune on recordings that the test makes: six plucked strings of known pitch.
#include <doctest/doctest.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <sstream>

#include "audio/plucked_string.h"
#include "cli/run.h"
#include "support/temp_folder.h"
#include "support/wav_file.h"

using namespace gripline;
using namespace gripline::test;

namespace {

constexpr int kRate_hz = 44100;

/// The strings one after the other, a second each; cents[i] of string 6 - i.
std::string six_strings(const test::TempFolder& folder, const std::vector<int>& notes, const std::vector<double>& cents, double a4_hz = 440.0) {
    std::vector<float> take;
    for (std::size_t i = 0; i < notes.size(); ++i) {
        PluckedString string({.rate_hz = kRate_hz});
        string.pluck(a4_hz * std::exp2((notes[i] - 69) / 12.0 + cents[i] / 1200.0), 0.1, 0.5, static_cast<std::uint32_t>(i + 1));
        std::vector<float> one(kRate_hz * 5 / 4, 0.0F);
        string.process(std::span(one).first(kRate_hz));
        take.insert(take.end(), one.begin(), one.end());
    }
    const std::string path = folder / "strings.wav";
    test::write_wav(path, take, kRate_hz);
    return path;
}

std::vector<nlohmann::json> lines_of(const std::string& text) {
    std::vector<nlohmann::json> out;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);) out.push_back(nlohmann::json::parse(line));
    return out;
}

}  // namespace

TEST_CASE("tune --json: one line a string with its cents, then all strings and whether they are fit to practise") {
    const test::TempFolder folder;
    const std::vector<double> cents{-3.0, 5.5, -43.0, 0.0, 12.0, -20.0};
    const auto result = run({"tune", "--input", six_strings(folder, {40, 45, 50, 55, 59, 64}, cents), "--json"});
    CHECK(result.status == 0);
    const auto lines = lines_of(result.out);
    REQUIRE(lines.size() == 7);
    for (int i = 0; i < 6; ++i) {
        CHECK(lines[static_cast<std::size_t>(i)]["string"] == 6 - i);
        CHECK(std::abs(lines[static_cast<std::size_t>(i)]["cents"].get<double>() - cents[static_cast<std::size_t>(i)]) < 0.5);
        CHECK(std::abs(lines[6]["strings"][static_cast<std::size_t>(i)]["cents"].get<double>() - cents[static_cast<std::size_t>(i)]) < 0.5);
    }
    CHECK(lines[6]["fit_to_practise"] == false);
    CHECK(lines[6]["refusal"] == "string 4 is 43 cents flat: tune before practising");
}

TEST_CASE("tune in words, in drop D at A4 = 415") {
    const test::TempFolder folder;
    const auto result = run({"tune", "--input", six_strings(folder, {38, 45, 50, 55, 59, 64}, {0, 0, 0, 0, 0, -7}, 415.0), "--tuning", "drop D", "--a4-hz", "415"});
    CHECK(result.status == 0);
    CHECK(result.out.find("String 6, D2: in tune") != std::string::npos);
    CHECK(result.out.find("String 1, E4: 7 cents flat") != std::string::npos);
    CHECK(result.out.find("tune before") == std::string::npos);
}

TEST_CASE("tune: bad input is told with the file's name") {
    CHECK(run({"tune", "--input", "/nowhere/a.wav"}).status == 1);
    CHECK(run({"tune", "--input", "/nowhere/a.wav"}).err.find("/nowhere/a.wav") != std::string::npos);
    CHECK(run({"tune", "--a4-hz", "500", "--input", "x.wav"}).status == 2);
    const test::TempFolder folder;
    const std::string silent = folder / "silent.wav";
    test::write_wav(silent, std::vector<float>(44100, 0.0F), 44100);
    const auto result = run({"tune", "--input", silent});
    CHECK(result.status == 0);
    CHECK(result.err.find("no string rang steadily") != std::string::npos);
    const auto lines = lines_of(run({"tune", "--input", silent, "--json"}).out);
    REQUIRE(lines.size() == 1);
    CHECK(lines[0]["fit_to_practise"].is_null());  // of a guitar that nobody heard nothing is known
    CHECK(lines[0]["reason"].get<std::string>().starts_with("no string rang steadily"));
}
