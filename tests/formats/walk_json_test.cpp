// Field names as the README states them for `walk`; JSON by RFC 8259.
#include "formats/walk_json.h"

#include <doctest/doctest.h>

#include <limits>
#include <nlohmann/json.hpp>

using namespace gripline;
using Json = nlohmann::json;

TEST_CASE("a beat that was heard holds the fields of the README") {
    WalkBeat beat{.bar = 3, .beat = 2, .written_bar = 2, .chord = "C7", .at_s = 4.25, .target = {}};
    beat.target.grip = Grip::parse("10-x-9-10-x-x").value();
    BeatResult result;
    result.any_strum = true;
    result.off_ms = -12.34;
    result.verdict.kind = VerdictKind::wrong;
    result.verdict.confidence = 0.03;
    result.verdict.heard = {MidiNote(50), MidiNote(58)};
    result.verdict.faults.push_back({FaultKind::wrong_note, StringNumber(4), -1, MidiNote(59), MidiNote(58), 0.9});
    const std::string line = walk_beat_json(beat, result);
    CHECK(line.find('\n') == std::string::npos);
    const Json json = Json::parse(line);
    CHECK(json.size() == 10);
    CHECK(json["bar"] == 3);
    CHECK(json["beat"] == 2);
    CHECK(json["chord"] == "C7");
    CHECK(json["grip"] == "10-x-9-10-x-x");
    CHECK(json["at_s"] == doctest::Approx(4.25));
    CHECK(json["verdict"] == "wrong");
    CHECK(json["confidence"] == doctest::Approx(0.03));
    CHECK(json["off_ms"] == doctest::Approx(-12.3));
    CHECK(json["heard"] == Json({"D3", "Bb3"}));
    REQUIRE(json["faults"].size() == 1);
    CHECK(json["faults"][0]["kind"] == "wrong_note");
    CHECK(json["faults"][0]["string"] == 4);
    CHECK(json["faults"][0]["frets"] == -1);
}

TEST_CASE("a beat left out has no time, and its fields are there all the same") {
    const Json json = Json::parse(walk_beat_json({}, {}));
    CHECK(json.size() == 10);
    CHECK(json["verdict"] == "unheard");
    CHECK(json["off_ms"].is_null());
    CHECK(json["grip"].is_null());
    CHECK(json["heard"].empty());
    CHECK(json["faults"].empty());
}

TEST_CASE("the whole: counts, faults that came, times or null, joints, one suggestion") {
    const Json empty = Json::parse(walk_summary_json({}));
    CHECK(empty["beats"] == 0);
    CHECK(empty["faults"].is_object());
    CHECK(empty["faults"].empty());
    for (const char* field : {"bias_ms", "spread_ms", "drift_ms_per_minute", "drift_error_ms_per_minute"}) CHECK(empty[field].is_null());
    CHECK(empty["joints"].empty());
    WalkSummary sum;
    sum.beats = 16;
    sum.right = 12;
    sum.wrong = 3;
    sum.unheard = 1;
    sum.strums_between = 2;
    sum.faults[static_cast<std::size_t>(FaultKind::wrong_note)] = 2;
    sum.faults[static_cast<std::size_t>(FaultKind::shifted)] = 1;
    sum.bias_ms = 3.14159;
    sum.spread_ms = std::numeric_limits<double>::quiet_NaN();
    sum.joints.push_back({.bar = 4, .beat = 1, .from = "Dm7\xff", .to = "G7", .played = 2, .wrong = 1, .unheard = 0, .unsteady_ms = 20.06});
    sum.suggestion = "Play on.";
    const Json json = Json::parse(walk_summary_json(sum));
    CHECK(json["beats"] == 16);
    CHECK(json["right"] == 12);
    CHECK(json["wrong"] == 3);
    CHECK(json["unheard"] == 1);
    CHECK(json["strums_between"] == 2);
    CHECK(json["faults"] == Json({{"wrong_note", 2}, {"shifted", 1}}));
    CHECK(json["bias_ms"] == doctest::Approx(3.1));
    CHECK(json["spread_ms"].is_null());
    REQUIRE(json["joints"].size() == 1);
    CHECK(json["joints"][0]["bar"] == 4);
    CHECK(json["joints"][0]["to"] == "G7");
    CHECK(json["joints"][0]["unsteady_ms"] == doctest::Approx(20.1));
    CHECK(json["suggestion"] == "Play on.");
}

TEST_CASE("a live walk's beats say which chorus at which tempo, seconds of the music; the whole says what the machine did") {
    WalkScore score;
    score.bars.push_back({.chords = "C7"});
    ScoreBeat only;
    only.beat.target.grip = Grip::parse("8x89xx").value();
    score.beats.push_back(only);
    WalkHearing hearing(score);
    Passage passage{.tempo_bpm = 150.0, .counts = 4, .chorus = 2, .bars = {1, 1}, .judged = true};
    passage.start_s = 1.6;
    hearing.expect(3, passage, 100.0);
    hearing.pass(110.0, 100.0);
    REQUIRE(hearing.results().size() == 1);
    const Json beat = Json::parse(live_beat_json(hearing, hearing.results().front()));
    CHECK(beat.size() == 12);
    CHECK(beat["at_s"] == doctest::Approx(1.6));
    CHECK(beat["chorus"] == 2);
    CHECK(beat["tempo_bpm"] == doctest::Approx(150.0));
    CHECK(beat["verdict"] == "unheard");
    LiveWalkFacts facts{.choruses = 2, .tempo_bpm = 150.0, .delay_ms = {}, .lost_frames = 5, .gap_frames = 6, .pictures = 7, .most_pictures_a_second = 8, .latest_picture_ms = 9.04};
    const Json whole = Json::parse(live_summary_json({}, facts));
    CHECK(whole["choruses"] == 2);
    CHECK(whole["delay_ms"].is_null());
    CHECK(whole["lost_frames"] == 5);
    CHECK(whole["gap_frames"] == 6);
    CHECK(whole["pictures"] == 7);
    CHECK(whole["most_pictures_a_second"] == 8);
    CHECK(whole["latest_picture_ms"] == doctest::Approx(9.0));
    CHECK(whole["suggestion"].is_string());
    facts.delay_ms = -5.34;
    CHECK(Json::parse(live_summary_json({}, facts))["delay_ms"] == doctest::Approx(-5.3));
}
