// Field names as the README states them; JSON by RFC 8259.
#include "formats/verdict_json.h"

#include <doctest/doctest.h>

#include <limits>
#include <nlohmann/json.hpp>

using namespace gripline;
using Json = nlohmann::json;

TEST_CASE("an answer holds the fields of the README, its notes spelled flat") {
    Verdict verdict;
    verdict.kind = VerdictKind::wrong;
    verdict.confidence = 0.03;
    verdict.onset_s = 0.557;
    verdict.decided_s = 0.741;
    verdict.heard = {MidiNote(43), MidiNote(53), MidiNote(58)};
    verdict.bass = PitchClass(7);
    verdict.tuning_cents = 4.0;
    verdict.faults.push_back({FaultKind::wrong_note, StringNumber(3), -1, MidiNote(59), MidiNote(58), 0.9});
    const std::string line = answer_json("0001", verdict);
    CHECK(line.find('\n') == std::string::npos);
    const Json json = Json::parse(line);
    CHECK(json["case"] == "0001");
    CHECK(json["verdict"] == "wrong");
    CHECK(json["confidence"] == doctest::Approx(0.03));
    CHECK(json["at_s"] == doctest::Approx(0.557));
    CHECK(json["decided_s"] == doctest::Approx(0.741));
    CHECK(json["heard"] == Json({"G2", "F3", "Bb3"}));
    CHECK(json["bass"] == "G");
    CHECK(json["tuning_cents"] == doctest::Approx(4.0));
    REQUIRE(json["faults"].size() == 1);
    CHECK(json["faults"][0]["kind"] == "wrong_note");
    CHECK(json["faults"][0]["string"] == 3);
    CHECK(json["faults"][0]["frets"] == -1);
    CHECK(json["faults"][0]["asked"] == "B");
    CHECK(json["faults"][0]["heard"] == "Bb");
}

TEST_CASE("a strum heard holds each pitch class once, from C upwards, and twelve strengths") {
    Verdict heard;
    heard.heard = {MidiNote(48), MidiNote(58), MidiNote(64), MidiNote(60)};
    heard.bass = PitchClass(0);
    heard.strengths[0] = 0.5F;
    const Json json = Json::parse(strum_json(heard));
    CHECK(json["notes"] == Json({"C3", "Bb3", "E4", "C4"}));
    CHECK(json["pitch_classes"] == Json({"C", "E", "Bb"}));
    CHECK(json["strengths"].size() == 12);
    CHECK(json["strengths"][0] == doctest::Approx(0.5));
    CHECK(json["bass"] == "C");
}

TEST_CASE("nothing heard gives null times and bass, and no number is ever NaN") {
    Verdict verdict;
    verdict.tuning_cents = std::numeric_limits<double>::quiet_NaN();
    const Json json = Json::parse(answer_json("x", verdict, false));
    CHECK(json["verdict"] == "unheard");
    CHECK(json["at_s"].is_null());
    CHECK(json["decided_s"].is_null());
    CHECK(json["bass"].is_null());
    CHECK(json["tuning_cents"].is_null());
    CHECK(json["faults"].empty());
}

TEST_CASE("names that are no UTF-8, or hold quotes and line breaks, still give one valid line") {
    for (const std::string& name : {std::string("\xff\xfe"), std::string("a\"b\n\tc"), std::string("\0x", 2)}) {
        const std::string line = error_json(name, "take \xc3: gone");
        CHECK(line.find('\n') == std::string::npos);
        CHECK(Json::accept(line));
        CHECK(Json::accept(json_string(name)));
    }
}

TEST_CASE("the hypotheses behind an answer, where asked for: likeliest first, with chance, place and notes") {
    Verdict verdict;
    verdict.kind = VerdictKind::wrong;
    const std::vector<Weighed> leading{{FaultKind::wrong_note, 4, -2, {MidiNote(51), MidiNote(60)}, 0.93, 0.21}, {std::nullopt, 0, 0, {MidiNote(51), MidiNote(62)}, 0.05, 0.4}};
    const Json json = Json::parse(answer_json("x", verdict, true, leading));
    REQUIRE(json["hypotheses"].size() == 2);
    CHECK(json["hypotheses"][0]["kind"] == "wrong_note");
    CHECK(json["hypotheses"][0]["string"] == 4);
    CHECK(json["hypotheses"][0]["frets"] == -2);
    CHECK(json["hypotheses"][0]["notes"] == Json({"Eb3", "C4"}));
    CHECK(json["hypotheses"][1]["kind"] == "asked");
    CHECK_FALSE(json["hypotheses"][1].contains("string"));
    CHECK_FALSE(Json::parse(answer_json("x", verdict)).contains("hypotheses"));
}
