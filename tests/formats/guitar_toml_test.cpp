// A guitar's file: written, read back, and everything that must not be taken for one (TOML 1.0.0, toml.io).
#include "formats/guitar_toml.h"

#include <doctest/doctest.h>

#include <nlohmann/json.hpp>
#include <random>

#include "formats/guitar_json.h"

using namespace gripline;

namespace {

GuitarProfile profile() {
    GuitarProfile out;
    out.name = "blond \"archtop\"";
    out.input = "usb interface";
    out.made_on = "2026-11-25";
    out.noise_db = -71.5;
    out.level_db = -24.3;
    for (int number = 6; number >= 1; --number) {
        ProfileString string{.string = StringNumber(number), .open = {}, .fretted = {}};
        for (dsp::NoteVoice* note : {&string.open, &string.fretted}) {
            note->midi = out.tuning.open(string.string).number() + (note == &string.open ? 0 : 7);
            note->cents = 1.25 * number - 3.0;
            note->stiffness = 1.2e-5 * number;
            for (int n = 0; n < dsp::kVoicePartials; ++n) note->partial_db[static_cast<std::size_t>(n)] = n == 7 ? dsp::kNoPartial_db : -2.5F - 3.5F * static_cast<float>(n);
        }
        out.strings.push_back(string);
    }
    return out;
}

std::string with(std::string text, const std::string& what, const std::string& instead) {
    const auto at = text.find(what);
    REQUIRE(at != std::string::npos);
    return text.replace(at, what.size(), instead);
}

}  // namespace

TEST_CASE("A profile written and read is the same, and written again the same text") {
    const std::string text = guitar_toml(profile());
    const auto read = parse_guitar(text);
    REQUIRE(read.ok());
    CHECK(read->name == profile().name);
    CHECK(read->input == "usb interface");
    CHECK(read->tuning == Tuning());
    CHECK(read->strings.size() == 6);
    CHECK(read->strings[0].open.cents == 4.5);
    CHECK(read->strings[0].fretted.midi == 47);
    CHECK(read->strings[5].fretted.partial_db == profile().strings[5].fretted.partial_db);
    CHECK(guitar_toml(*read) == text);
}

TEST_CASE("What is no guitar's file is refused with line, key, value and limit") {
    const std::string good = guitar_toml(profile());
    const struct {
        std::string text, says;
    } rows[] = {
        {"", "\"format\""},
        {"format = 3", "\"format\""},
        {with(good, "gripline guitar 1", "gripline guitar 9"), "gripline guitar 9"},
        {with(good, "name = \"blond \\\"archtop\\\"\"", "name = \"\""), "\"name\""},
        {with(good, "name = \"blond \\\"archtop\\\"\"", "name = \"a\\u001Bb\""), "control character"},
        {with(good, "2026-11-25", "yesterday!"), "is no day"},
        {with(good, "E2 A2", "H2 A2"), "\"tuning\""},
        {with(good, "E2 A2 D3 G3 B3 E4", "A2 D3 G3 B3 E4"), "the tuning has 5"},
        {with(good, "a4-hz = 440.0", "a4-hz = nan"), "415 to 466"},
        {with(good, "noise-db = -71.5", "noise-db = inf"), "-120 to 0"},
        {with(good, "open-cents = 4.50", "open-cents = 900"), "string 6, key \"open-cents\": 900 is out of range"},
        {with(good, "open-partials-db = [-2.5, ", "open-partials-db = [3, "), "3 is out of range; -60 to 0"},
        {with(good, "open-partials-db = [-2.5, ", "open-partials-db = ["), "a list of 12 numbers"},
        {with(good, "open-partials-db = [-2.5", "open-partials-db = [\"x\""), "a list of 12 numbers"},
        {with(good, "number = 6", "number = 5"), "6 to 6"},
        {with(good, "fret = 7", "fret = 7\nfrets = 8"), "\"frets\" is unknown"},
        {with(good, "[[string]]", "[string]"), "no TOML"},
        {good.substr(0, good.size() / 2), ""},
        {good + std::string(kMostGuitar_bytes, '#'), "larger than 65536"},
    };
    for (const auto& row : rows) {
        CAPTURE(row.text.substr(0, 300));
        const auto read = parse_guitar(row.text);
        REQUIRE_FALSE(read.ok());
        CHECK(read.error().message.find(row.says) != std::string::npos);
    }
}

TEST_CASE("Garbage is refused, never read and never a crash") {
    std::mt19937 random(8);
    const std::string good = guitar_toml(profile());
    for (int round = 0; round < 2000; ++round) {
        std::string text = good;
        for (int change = 0; change < 1 + round % 7; ++change) text[random() % text.size()] = static_cast<char>(random() % 256);
        if (round % 5 == 0) text.resize(random() % text.size());
        const auto read = parse_guitar(text);
        if (read.ok()) CHECK(parse_guitar(guitar_toml(*read)).ok());
        else CHECK_FALSE(read.error().message.empty());
    }
}

TEST_CASE("As JSON: every field, partials that are not there as null") {
    const auto json = nlohmann::json::parse(guitar_json(profile()));
    CHECK(json["name"] == "blond \"archtop\"");
    CHECK(json["strings"].size() == 6);
    CHECK(json["strings"][0]["note"] == "E2");
    CHECK(json["strings"][0]["partials_db"][7].is_null());
    CHECK(json["response"].size() == static_cast<std::size_t>(dsp::kResponseBands));
    CHECK(json["advice"].is_array());
}
