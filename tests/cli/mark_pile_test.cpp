// gripline mark FOLDER: takes of simulated students, in several formats, against a quiz and against a chart at a tempo.
#include <doctest/doctest.h>

#include <sndfile.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <sstream>

#include "audio/file_source.h"
#include "cli/pile_take.h"
#include "cli/run.h"
#include "formats/quiz_result_json.h"
#include "formats/quiz_toml.h"
#include "support/file_bytes.h"
#include "support/student_take.h"
#include "support/temp_folder.h"
#include "support/wav_file.h"

using namespace gripline;
using namespace gripline::test;

namespace {

const char* const kQuiz =
    "format = \"gripline quiz 1\"\ntitle = \"Shells\"\norder = \"own order\"\nseed = 7\n"
    "[[part]]\ntitle = \"By name\"\nqualities = [\"7\", \"m7\"]\nkeys = [\"C\", \"F\", \"Bb\"]\nroles = [\"chord\", \"passing\"]\nnumber = 8\n";

std::string quiz_file(const TempFolder& folder) {
    write_bytes(folder / "quiz.toml", kQuiz);
    return folder / "quiz.toml";
}

/// A note a fret flat on string 3 where wanted, elsewhere right.
std::optional<PlannedFault> flat_third(bool wrong) {
    return wrong ? std::optional(PlannedFault{PlannedFaultKind::wrong_note, StringNumber(3), -1}) : std::nullopt;
}

/// The student's questions strummed in order, two seconds apart after `lead_s`; wrong where the number of the question is in `wrong`, left out likewise.
StudentTake take_of(const std::string& student, double lead_s, const std::vector<std::size_t>& wrong, const std::vector<std::size_t>& left_out, std::uint32_t seed) {
    StudentTake take;
    take.seed = seed;
    const std::vector<QuizQuestion> questions = draw_questions(parse_quiz(kQuiz).value(), student).value();
    for (std::size_t i = 0; i < questions.size(); ++i) {
        if (std::count(left_out.begin(), left_out.end(), i) > 0) continue;
        const bool is_wrong = std::count(wrong.begin(), wrong.end(), i) > 0;
        take.grips.push_back({lead_s + 2.0 * static_cast<double>(i), questions[i].step.grip, flat_third(is_wrong)});
    }
    take.length_s = lead_s + 2.0 * static_cast<double>(questions.size()) + 1.5;
    return take;
}

/// The same sound in both channels, by libsndfile.
void write_stereo(const std::string& path, const std::vector<float>& frames, int rate_hz, int format) {
    SF_INFO info{};
    info.samplerate = rate_hz;
    info.channels = 2;
    info.format = format;
    SNDFILE* file = sf_open(path.c_str(), SFM_WRITE, &info);
    REQUIRE(file != nullptr);
    std::vector<float> both;
    for (const float frame : frames) both.insert(both.end(), 2, frame);
    REQUIRE(sf_writef_float(file, both.data(), static_cast<sf_count_t>(frames.size())) == static_cast<sf_count_t>(frames.size()));
    sf_close(file);
}

std::vector<nlohmann::json> lines_of(const std::string& text) {
    std::vector<nlohmann::json> out;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);) out.push_back(nlohmann::json::parse(line));
    return out;
}

}  // namespace

TEST_CASE("A pile against a quiz: WAV, FLAC at 22 kHz and stereo MP3, noise before and after, each answer its own step") {
    const TempFolder folder;
    std::filesystem::create_directory(folder / "takes");
    const std::string takes = folder / "takes/";
    write_wav(takes + "ada.wav", render_take(take_of("ada", 1.0, {}, {}, 1)), 48000);
    StudentTake flac = take_of("student two", 4.0, {2, 5}, {}, 2);
    flac.rate_hz = 22050;
    flac.grips.insert(flac.grips.begin(), {{0.7, Grip(), std::nullopt, true}, {2.0, Grip::parse("022100").value(), std::nullopt}});
    REQUIRE(write_flac(takes + "student two.flac", render_take(flac), 22050).ok());
    StudentTake mp3 = take_of("<script>", 2.5, {0}, {3}, 3);
    mp3.rate_hz = 44100;
    mp3.grips.push_back({mp3.length_s - 0.5, Grip(), std::nullopt, true});
    mp3.length_s += 2.0;
    write_stereo(takes + "<script>.mp3", render_take(mp3), 44100, SF_FORMAT_MPEG | SF_FORMAT_MPEG_LAYER_III);
    write_bytes(takes + "notes.txt", "no recording");
    const auto marked = run({"mark", takes, "--quiz", quiz_file(folder), "--json"});
    CHECK(marked.status == 0);
    CAPTURE(marked.err);
    const auto lines = lines_of(marked.out);
    REQUIRE(lines.size() == 3);
    CHECK(lines[0]["student"] == "<script>");
    CHECK(lines[0]["answers"] == nlohmann::json({"wrong", "right", "right", "unheard", "right", "right", "right", "right"}));
    CHECK(lines[1]["student"] == "ada");
    CHECK(lines[1]["right"] == 8);
    CHECK(lines[1]["passed"] == true);
    CHECK(lines[2]["answers"] == nlohmann::json({"right", "right", "wrong", "right", "right", "wrong", "right", "right"}));
    const auto result = load_quiz_result(takes + "marked/student two.flac.marked");
    REQUIRE_MESSAGE(result.ok(), (result.ok() ? "" : result.error().message));
    CHECK(result->recording == "student two.flac");
    REQUIRE(result->answers[2].tries.size() == 1);
    CHECK(result->answers[2].tries[0].sound_at_s == doctest::Approx(8.0).epsilon(0.01));
}

TEST_CASE("A pile goes on where it was broken off, and marks anew only what has changed") {
    const TempFolder folder;
    std::filesystem::create_directory(folder / "takes");
    const std::string takes = folder / "takes/", quiz = quiz_file(folder);
    write_wav(takes + "one.wav", render_take(take_of("one", 1.0, {}, {}, 4)), 48000);
    write_wav(takes + "two.wav", render_take(take_of("two", 1.0, {1}, {}, 5)), 48000);
    REQUIRE(run({"mark", takes, "--quiz", quiz}).status == 0);
    const auto before = load_quiz_result(takes + "marked/one.wav.marked");
    std::filesystem::remove_all(takes + "marked/two.wav.marked");
    const auto again = run({"mark", takes, "--quiz", quiz});
    CHECK(again.status == 0);
    CHECK(again.out.find("one: 8 of 8 right, 100 per cent, passed (marked before)") != std::string::npos);
    CHECK(again.out.find("two: 7 of 8 right, 88 per cent, passed") != std::string::npos);
    CHECK(load_quiz_result(takes + "marked/one.wav.marked")->run == before->run);
    write_wav(takes + "one.wav", render_take(take_of("one", 1.0, {0, 1, 2, 3}, {}, 6)), 48000);
    CHECK(run({"mark", takes, "--quiz", quiz}).out.find("one: 4 of 8 right, 50 per cent, not passed") != std::string::npos);
}

TEST_CASE("A pile against a chart at a tempo: the line's beats, wherever in the take they begin") {
    const TempFolder folder;
    std::filesystem::create_directory(folder / "takes");
    write_bytes(folder / "two.txt", "key: F\n| F7 | Bb7 | F7 | C7 |\n");
    Quiz quiz;
    quiz.parts.emplace_back().what = ChartAsked{"key: F\n| F7 | Bb7 | F7 | C7 |\n", "", 100.0};
    const std::vector<QuizQuestion> questions = draw_questions(quiz, "").value();
    REQUIRE(questions.size() == 16);
    StudentTake take;
    take.ring_s = 0.35;
    take.grips.push_back({1.0, Grip::parse("022100").value(), std::nullopt});
    for (std::size_t i = 0; i < questions.size(); ++i) {
        if (i == 9) continue;  // a beat left out
        take.grips.push_back({3.7 + questions[i].beat->at_s * 1.01, questions[i].step.grip, flat_third(i == 4 || i == 12)});
    }
    take.length_s = 17.0;
    write_wav(folder / "takes/walker.wav", render_take(take), 48000);
    const auto marked = run({"mark", folder / "takes", "--chart", folder / "two.txt", "--tempo", "100", "--json"});
    CHECK(marked.status == 0);
    CAPTURE(marked.out);
    const auto lines = lines_of(marked.out);
    REQUIRE(lines.size() == 1);
    CHECK(lines[0]["right"] == 13);
    CHECK(lines[0]["answers"][4] == "wrong");
    CHECK(lines[0]["answers"][9] == "unheard");
    CHECK(lines[0]["answers"][12] == "wrong");
    const auto result = load_quiz_result(folder / "takes/marked/walker.wav.marked");
    REQUIRE(result.ok());
    for (const QuizAnswer& answer : result->answers)
        if (!answer.tries.empty()) CHECK(std::abs(answer.tries[0].answer_s) < 0.05);
}

TEST_CASE("What can't be marked is told for each take, the others are marked") {
    const TempFolder folder;
    std::filesystem::create_directory(folder / "takes");
    const std::string quiz = quiz_file(folder);
    CHECK(run({"mark", folder / "takes", "--quiz", quiz}).err.find("holds no recording") != std::string::npos);
    CHECK(run({"mark", quiz, "--quiz", quiz}).err.find("is no folder") != std::string::npos);
    CHECK(run({"mark", folder / "takes"}).err.find("--quiz or --chart") != std::string::npos);
    write_bytes(folder / "takes/broken.wav", "RIFF and no more");
    write_wav(folder / "takes/silent.wav", std::vector<float>(96000, 0.0F), 48000);
    const auto marked = run({"mark", folder / "takes", "--quiz", quiz, "--json"});
    CHECK(marked.status == 1);
    CHECK(marked.err.find("1 of 2 takes could not be marked") != std::string::npos);
    const auto lines = lines_of(marked.out);
    REQUIRE(lines.size() == 2);
    CHECK(lines[0].contains("error"));
    CHECK(lines[1]["right"] == 0);
}

TEST_CASE("A take is listened to once: marks are the same as when it is listened to again because nothing can be kept") {
    const TempFolder folder;
    StudentTake take = take_of("ada", 1.0, {2, 5}, {6}, 7);
    write_wav(folder / "ada.wav", render_take(take), 48000);
    const auto same_answers = [&](const Quiz& quiz) {
        const auto once = mark_take(quiz, "ada", folder / "ada.wav", folder.path()), again = mark_take(quiz, "ada", folder / "ada.wav", folder / "no such folder");
        REQUIRE(once.ok());
        REQUIRE(again.ok());
        CHECK(quiz_result_json(*once) == quiz_result_json(*again));
        return once->answers;
    };
    const auto answers = same_answers(parse_quiz(kQuiz).value());
    CHECK(std::count_if(answers.begin(), answers.end(), [](const QuizAnswer& answer) { return answer.outcome == QuizOutcome::right; }) == 5);
    Quiz walked;
    walked.parts.emplace_back().what = ChartAsked{"key: F\n| F7 | Bb7 | F7 | C7 |\n", "", 100.0};
    (void)same_answers(walked);
    for (const auto& entry : std::filesystem::directory_iterator(folder.path())) CHECK(entry.path().filename() == "ada.wav");
}

TEST_CASE("Results of another quiz, chart or tempo are replaced only when asked to, and what was marked by ear is set aside with words that repeat it") {
    const TempFolder folder;
    std::filesystem::create_directory(folder / "takes");
    const std::string takes = folder / "takes", quiz = quiz_file(folder), place = takes + "/marked/hal b.wav.marked";
    write_wav(takes + "/hal b.wav", render_take(take_of("hal b", 1.0, {}, {}, 8)), 48000);
    const auto first = run({"mark", takes, "--quiz", quiz});
    CHECK(first.out.starts_with("Marked against the quiz \"Shells\".\n"));
    REQUIRE(run({"quiz", "overrule", place, "2", "wrong", "--why", "late"}).status == 0);
    CHECK(run({"class", takes + "/marked"}).out.find("7/8") != std::string::npos);
    const std::string result_before = bytes_of(place + "/result.json"), overruled_before = bytes_of(place + "/overruled.json");
    write_bytes(quiz, std::string(kQuiz) + "pass-percent = 50\n");
    const auto refused = run({"mark", takes, "--quiz", quiz});
    CHECK(refused.status == 1);
    CHECK(refused.out.empty());
    CHECK(refused.err.find("1 of 1 takes are marked already against another quiz, chart or tempo than the quiz \"Shells\" (the first: " + place + ", \"Shells\"); --overwrite") != std::string::npos);
    CHECK(bytes_of(place + "/result.json") == result_before);
    CHECK(bytes_of(place + "/overruled.json") == overruled_before);
    const auto replaced = run({"mark", takes, "--quiz", quiz, "--overwrite"});
    CHECK(replaced.status == 0);
    CHECK(replaced.err.find("hal b: what was marked by ear belonged to an older marking") != std::string::npos);
    CHECK(replaced.err.find("gripline quiz overrule '" + place + "' 2 wrong") != std::string::npos);
    CHECK(bytes_of(place + "/overruled-before.json") == overruled_before);
    const auto page = run({"class", takes + "/marked"});
    CHECK(page.status == 0);
    CHECK(page.err.empty());
    CHECK(page.out.find("8/8") != std::string::npos);
    SUBCASE("a stray one, as older versions left them, keeps nobody off the page, and overrule sets it aside") {
        write_bytes(place + "/overruled.json", overruled_before);
        const auto with_stray = run({"class", takes + "/marked"});
        CHECK(with_stray.status == 1);
        CHECK(with_stray.out.find("8/8") != std::string::npos);
        CHECK(with_stray.err.find("hal b is shown as the program marked: ") != std::string::npos);
        CHECK(with_stray.err.find("older marking of this take") != std::string::npos);
        const auto coded = run({"class", takes + "/marked", "--codes"});
        CHECK(coded.out.find("8/8") != std::string::npos);
        CHECK(coded.err.find("1 result is shown as the program marked") != std::string::npos);
        CHECK(coded.err.find("hal") == std::string::npos);
        const auto again = run({"quiz", "overrule", place, "3", "wrong"});
        CHECK(again.status == 0);
        CHECK(again.err.find("does not count any more; it is kept in " + place + "/overruled-before-2.json") != std::string::npos);
        CHECK(run({"class", takes + "/marked"}).out.find("7/8") != std::string::npos);
    }
    SUBCASE("a chart's tempo is said, also its own, and another one is asked for") {
        write_bytes(folder / "two.txt", "key: F\ntempo: 120\n| F7 | Bb7 |\n");
        const std::string into = folder / "into";
        CHECK(run({"mark", takes, "--chart", folder / "two.txt", "--tempo", "100", "--into", into}).out.find("two.txt\" at 100 counts a minute.\n") != std::string::npos);
        const auto own = run({"mark", takes, "--chart", folder / "two.txt", "--into", into});
        CHECK(own.status == 1);
        CHECK(own.err.find("two.txt\" at 120 counts a minute") != std::string::npos);
        CHECK(run({"mark", takes, "--chart", folder / "two.txt", "--into", into, "--overwrite"}).out.find("two.txt\" at 120 counts a minute.\n") != std::string::npos);
    }
}
