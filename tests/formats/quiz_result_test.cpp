#include <doctest/doctest.h>

#include <fstream>

#include "audio/file_source.h"
#include "audio/strum.h"
#include "formats/digest.h"
#include "formats/quiz_result_json.h"
#include "practice/quiz_result_fixture.h"
#include "support/file_bytes.h"
#include "support/sweep.h"
#include "support/temp_folder.h"

using namespace gripline;
using enum gripline::QuizOutcome;

namespace {

QuizResult sample(const std::string& student = "Student one") { return test::result_of(test::grips_quiz(), student, {right, wrong, unheard}); }

/// The text with a piece replaced and a digest that fits again: as a forger, or another program, would write it.
std::string forged(std::string text, const std::string& from, const std::string& to) {
    const auto at = text.find(from);
    REQUIRE(at != std::string::npos);
    text.replace(at, from.size(), to);
    const auto end = text.rfind(",\n \"digest\"");
    return text.substr(0, end) + ",\n \"digest\": \"sha256:" + sha256_hex(text.substr(0, end)) + "\"\n}\n";
}

void write(const std::string& path, const std::string& text) { std::ofstream(path, std::ios::binary) << text; }

}  // namespace

TEST_CASE("A result is read back as it was written") {
    const std::string text = quiz_result_json(sample());
    const auto result = parse_quiz_result(text);
    REQUIRE_MESSAGE(result.ok(), (result.ok() ? "" : result.error().message));
    CHECK(quiz_result_json(*result) == text);
    CHECK(result->student == "Student one");
    CHECK(result->answers.size() == 4);
    CHECK(result->answers[1].tries.front().faults.front().frets == -1);
    CHECK(result->answers[1].tries.front().faults.front().asked == MidiNote(64));
    CHECK(result->answers[3].outcome == not_reached);
    CHECK(result->breaks.front().reason == "input lost");
    CHECK(result->facts.lost_frames == 12);
}

TEST_CASE("A result altered by one byte anywhere is reported") {
    const std::string text = quiz_result_json(sample());
    REQUIRE(parse_quiz_result(text).ok());
    for (std::size_t i = 0; i < text.size(); i += test::kByteStep) {
        for (const int bit : {0x01, 0x20, 0x80}) {
            std::string altered = text;
            altered[i] = static_cast<char>(altered[i] ^ bit);
            if (parse_quiz_result(altered).ok()) FAIL_CHECK("byte " << i << " altered by " << bit << " was not noticed");
        }
        std::string shorter = text, longer = text;
        shorter.erase(i, 1);
        longer.insert(i, 1, ' ');
        if (parse_quiz_result(shorter).ok() || parse_quiz_result(longer).ok()) FAIL_CHECK("byte " << i << " left out or added was not noticed");
    }
    CHECK_FALSE(parse_quiz_result(text + "\n").ok());
}

/// A strum's second of sound as FLAC, written by libsndfile.
std::string flac_of_a_strum(const std::string& path) {
    const auto frames = render_strum(*plan_strum(*Grip::parse("8x89xx"), Tuning()), 16000, 0.4, -12.0);
    REQUIRE(write_flac(path, frames, 16000).ok());
    const std::string bytes = test::bytes_of(path);
    REQUIRE(bytes.starts_with("fLaC"));  // RFC 9639, section 8
    return bytes;
}

TEST_CASE("A sound altered by one byte anywhere, or gone, is reported with its name") {
    const test::TempFolder folder;
    const std::string path = folder / "answer-01.flac", sound = flac_of_a_strum(path);
    QuizResult result = sample();
    result.answers[0].sound = {"answer-01.flac", sha256_hex(sound)};
    write(folder / "result.json", quiz_result_json(result));
    REQUIRE(load_quiz_result(folder.path()).ok());
    REQUIRE(load_quiz_result(folder / "result.json").ok());
    // In place, byte by byte: the marker, each block of metadata, the headers, samples and checksums of every frame, the last byte.
    std::fstream file(path, std::ios::in | std::ios::out | std::ios::binary);
    const auto put = [&](std::size_t at, char byte) {
        file.seekp(static_cast<std::streamoff>(at));
        file.put(byte);
        file.flush();
    };
    MESSAGE("the sound has " << sound.size() << " bytes");
    for (std::size_t i = 0; i < sound.size(); i += i < 64 ? 1 : test::kByteStep) {
        put(i, static_cast<char>(sound[i] ^ (i % 2 == 0 ? 0x01 : 0x80)));
        if (load_quiz_result(folder.path()).ok()) FAIL_CHECK("byte " << i << " of the sound");
        put(i, sound[i]);
    }
    CHECK(load_quiz_result(folder.path()).ok());
    put(sound.size() / 2, static_cast<char>(sound[sound.size() / 2] ^ 1));
    CHECK(load_quiz_result(folder.path()).error().message.find("answer-01.flac: was altered after it was recorded") != std::string::npos);
    for (const std::string& other : {sound.substr(0, sound.size() - 1), sound + '\0'}) {
        write(path, other);
        CHECK_FALSE(load_quiz_result(folder.path()).ok());
    }
    std::filesystem::remove(path);
    CHECK(load_quiz_result(folder.path()).error().message.find("answer-01.flac: the sound of an answer is missing") != std::string::npos);
}

TEST_CASE("Broken result files give one message each, with the place") {
    const std::string text = quiz_result_json(sample());
    struct Row {
        std::string text;
        std::string message;
    };
    const Row rows[] = {
        {"", "line 1, column 0: this is no JSON"},
        {"{\n \"format\" 3}", "line 2, column "},
        {"{}", "has no digest at its end"},
        {text.substr(0, text.size() / 2), "line "},
        {forged(text, "quiz result 1", "quiz result 2"), "format: \"gripline quiz result 2\" can't be read"},
        {forged(text, " \"student\": \"Student one\",\n", ""), "student: is missing; a text is wanted"},
        {forged(text, "\"started_ms\": 1764000000000", "\"started_ms\": \"now\""), "started_ms: is a string; a whole number is wanted"},
        {forged(text, "\"ending\": \"finished\"", "\"ending\": \"won\""), "ending: \"won\" is unknown; allowed: finished, time over, handed in"},
        {forged(text, "\"confidence\": 0.9375", "\"confidence\": 7"), "answers[0].tries[0].confidence: 7 is out of range; 0 to 1 is allowed"},
        {forged(text, "\"outcome\": \"wrong\"", "\"outcome\": \"fine\""), "answers[1].outcome: \"fine\" is unknown; allowed: right, wrong, unheard, not reached"},
        {forged(text, "\"grip\": \"8x89xx\"", "\"grip\": \"8x89x\""), "answers[0].grip: "},
        {forged(text, "\"kind\": \"wrong_note\"", "\"kind\": \"sour\""), "answers[1].tries[0].faults[0].kind: \"sour\" is unknown"},
        {forged(text, "\"part\": 1", "\"part\": 2"), "answers[0].part: there is no such part"},
        {forged(text, "\"sound\": \"\"", "\"sound\": \"../../etc/passwd\""), "answers[0].sound: \"../../etc/passwd\" is no plain file name"},
        {forged(text, "\"tuning\": \"E2 A2 D3 G3 B3 E4\"", "\"tuning\": \"E2\""), "tuning: "},
    };
    for (const Row& row : rows) {
        CAPTURE(row.message);
        const auto result = parse_quiz_result(row.text);
        REQUIRE_FALSE(result.ok());
        CAPTURE(result.error().message);
        CHECK(result.error().message.starts_with(row.message));
        CHECK(result.error().message.find('\n') == std::string::npos);
    }
}

TEST_CASE("A student's name in whatever bytes is written, read back and kept from breaking the file") {
    for (const std::string& student : std::vector<std::string>{"<script>alert(1)</script>", "\x1b[2J\x1b]0;x\x07", "\"}, {\"", "é ♭ 名", std::string("a\0b", 3)}) {
        const auto result = parse_quiz_result(quiz_result_json(sample(student)));
        REQUIRE(result.ok());
        CHECK(result->student == student);
    }
    CHECK(parse_quiz_result(quiz_result_json(sample("\xff\xfe"))).ok());
}

TEST_CASE("The hand-in code is the first eight digits of the digest") {
    const std::string text = quiz_result_json(sample());
    const auto digest = text.substr(text.rfind("sha256:") + 7, 64);
    CHECK(hand_in_code(text) == digest.substr(0, 8));
    CHECK(hand_in_code("").empty());
}
