// Recordings that are none, or broken: a message with the place and what to do, status 1, and never a made-up answer.
#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>
#include <numbers>
#include <random>
#include <sstream>

#include "cli/run.h"
#include "support/temp_folder.h"
#include "support/wav_file.h"

using namespace gripline;
using namespace gripline::test;

namespace {

std::vector<float> hum(double seconds) {
    std::vector<float> frames(static_cast<std::size_t>(seconds * 48000));
    for (std::size_t i = 0; i < frames.size(); ++i) frames[i] = 0.1F * static_cast<float>(std::sin(2 * std::numbers::pi * 110.0 * static_cast<double>(i) / 48000));
    return frames;
}

/// Names of the broken files that were written into the folder.
std::vector<std::string> write_broken(const TempFolder& folder) {
    const std::string sound = float_bytes(hum(0.5));
    const auto bytes = static_cast<std::uint32_t>(sound.size());
    write_bytes(folder / "empty.wav", "");
    write_bytes(folder / "text.wav", "these are words, no sound\n");
    write_bytes(folder / "head-cut.wav", wav_head({}).substr(0, 20));
    write_bytes(folder / "head-only.wav", wav_head({}));
    write_bytes(folder / "cut.wav", wav_head({.data_bytes = 4 * bytes}) + sound);
    write_bytes(folder / "slow.wav", wav_head({.rate_hz = 1, .data_bytes = bytes}) + sound);
    write_bytes(folder / "fast.wav", wav_head({.rate_hz = 4000000000U, .data_bytes = bytes}) + sound);
    write_bytes(folder / "no-rate.wav", wav_head({.rate_hz = 0, .data_bytes = bytes}) + sound);
    write_bytes(folder / "no-channels.wav", wav_head({.channels = 0, .data_bytes = bytes}) + sound);
    write_bytes(folder / "many-channels.wav", wav_head({.channels = 600, .data_bytes = bytes}) + sound);
    auto not_numbers = hum(0.5);
    for (std::size_t i = 0; i < not_numbers.size(); i += 7) not_numbers[i] = std::numeric_limits<float>::quiet_NaN();
    write_wav(folder / "nan.wav", not_numbers, 48000);
    auto endless = hum(0.5);
    endless[9000] = std::numeric_limits<float>::infinity();
    write_wav(folder / "infinite.wav", endless, 48000);
    return {"empty.wav",   "text.wav",        "head-cut.wav",      "head-only.wav", "cut.wav",      "slow.wav", "fast.wav",
            "no-rate.wav", "no-channels.wav", "many-channels.wav", "nan.wav",       "infinite.wav", "missing.wav"};
}

}  // namespace

TEST_CASE("hear refuses what is no sound, or not wholly, and names the file") {
    const TempFolder folder;
    for (const std::string& name : write_broken(folder)) {
        CAPTURE(name);
        const Run heard = run({"hear", folder / name, "--json"});
        CAPTURE(heard.err);
        CHECK(heard.status == 1);
        CHECK(heard.err.starts_with("gripline: "));
        CHECK(heard.err.find(name) != std::string::npos);
    }
    CHECK(run({"hear", folder / ""}).status == 1);  // a folder
    CHECK(run({"hear", "/dev/zero"}).status == 1);
}

TEST_CASE("hear on silence says so and succeeds") {
    const TempFolder folder;
    write_wav(folder / "silence.wav", std::vector<float>(48000), 48000);
    const Run heard = run({"hear", folder / "silence.wav", "--json"});
    CHECK(heard.status == 0);
    CHECK(heard.out.empty());
    CHECK(heard.err.find("no strum was heard") != std::string::npos);
}

TEST_CASE("mark answers every row in order, the broken ones with an error, and status 1") {
    const TempFolder folder;
    write_wav(folder / "silence.wav", std::vector<float>(48000), 48000);
    std::string list = "case,take,from_s,grip\r\n";
    std::vector<std::string> names;
    for (const std::string& take : write_broken(folder)) {
        for (const std::string& file : {take, std::string("silence.wav")}) {
            names.push_back("n" + std::to_string(names.size()));
            list += names.back() + "," + file + ",0,3x23xx\r\n";
        }
    }
    names.push_back("odd");
    list += "odd,silence.wav,0,3x2\r\n";
    write_bytes(folder / "cases.csv", list);
    const Run marked = run({"mark", folder / "cases.csv", "--json"});
    CHECK(marked.status == 1);
    std::istringstream lines(marked.out);
    std::string line;
    std::size_t row = 0;
    for (; std::getline(lines, line); ++row) {
        CAPTURE(line);
        REQUIRE(row < names.size());
        const auto answer = nlohmann::json::parse(line);
        CHECK(answer["case"] == names[row]);
        const bool broken = row % 2 == 0;
        CHECK(answer.contains("error") == broken);
        if (!broken) CHECK(answer["verdict"] == "unheard");
    }
    CHECK(row == names.size());
    CHECK(marked.err.find("14 of 27 rows could not be marked") != std::string::npos);
}

TEST_CASE("mark refuses a list that can't be opened or used") {
    const TempFolder folder;
    CHECK(run({"mark", folder / "none.csv"}).status == 1);
    CHECK(run({"mark", folder / ""}).status == 1);
    write_bytes(folder / "wav.csv", wav_head({}));
    CHECK(run({"mark", folder / "wav.csv"}).status == 1);
    write_bytes(folder / "empty.csv", "");
    const Run empty = run({"mark", folder / "empty.csv", "--json"});
    CHECK(empty.status == 1);
    CHECK(empty.out.empty());
    CHECK(empty.err.find("empty.csv") != std::string::npos);
}

TEST_CASE("bytes of a good recording changed at random never crash or hang the listening") {
    const TempFolder folder;
    const auto sound = hum(0.2);
    const std::string good = wav_head({.data_bytes = static_cast<std::uint32_t>(sound.size() * sizeof(float))}) + float_bytes(sound);
    std::mt19937 random(1991);  // NOLINT: the same damage every time
    for (int round = 0; round < 300; ++round) {
        std::string bytes = good;
        for (unsigned many = 1 + random() % 8; many > 0; --many) bytes[random() % (round % 3 == 0 ? bytes.size() : 44U)] = static_cast<char>(random() % 256);
        if (round % 5 == 0) bytes.resize(random() % bytes.size());
        write_bytes(folder / "damaged.wav", bytes);
        const Run heard = run({"hear", folder / "damaged.wav", "--json"});
        CHECK((heard.status == 0 || heard.status == 1));
        CHECK((heard.status == 0 || !heard.err.empty()));
    }
}
