#include <doctest/doctest.h>

#include <string>

#include "formats/digest.h"
#include "formats/quiz_toml.h"

using namespace gripline;

namespace {

const std::string kHead = "format = \"gripline quiz 1\"\ntitle = \"T\"\n";
const std::string kPart = "[[part]]\nqualities = [\"7\"]\nnumber = 4\n";

}  // namespace

TEST_CASE("SHA-256 of \"abc\" and of nothing are those of FIPS 180-4's examples") {
    CHECK(sha256_hex("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    CHECK(sha256_hex("") == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
}

TEST_CASE("The quiz of the fixtures is read as it is written, and again from the text that gripline writes") {
    const auto quiz = load_quiz(std::string(GRIPLINE_FIXTURES) + "/quizzes/week-three.toml");
    REQUIRE_MESSAGE(quiz.ok(), (quiz.ok() ? "" : quiz.error().message));
    CHECK(quiz->title == "Week three");
    CHECK(quiz->order == QuizOrder::own_order);
    CHECK(quiz->tries == 2);
    REQUIRE(quiz->parts.size() == 3);
    CHECK(quiz->parts[0].pass_percent == 75);
    CHECK(std::get<SkillsAsked>(quiz->parts[0].what).roles.size() == 3);
    CHECK(std::get<GripsAsked>(quiz->parts[1].what).grips[1].chord == "Bdim7");
    CHECK(std::get<ChartAsked>(quiz->parts[2].what).tempo_bpm == 100.0);
    CHECK(draw_questions(*quiz, "x")->size() == 8 + 3 + 16);
    const auto again = parse_quiz(quiz_toml(*quiz));
    REQUIRE_MESSAGE(again.ok(), (again.ok() ? "" : again.error().message));
    CHECK(*again == *quiz);
    CHECK(quiz_fingerprint(*again) == quiz_fingerprint(*quiz));
}

TEST_CASE("The fingerprint changes with what is asked, and not with comments or the order of keys") {
    const auto quiz = parse_quiz(kHead + "seed = 3\ntries = 2\n" + kPart), same = parse_quiz("# note\n" + kHead + "tries = 2\nseed = 3\n" + kPart), other = parse_quiz(kHead + "seed = 4\ntries = 2\n" + kPart);
    REQUIRE((quiz.ok() && same.ok() && other.ok()));
    CHECK(quiz_fingerprint(*quiz) == quiz_fingerprint(*same));
    CHECK(quiz_fingerprint(*quiz) != quiz_fingerprint(*other));
}

TEST_CASE("Every title survives writing: quotes, backslashes, line feeds, control characters, UTF-8") {
    auto quiz = parse_quiz(kHead + kPart);
    REQUIRE(quiz.ok());
    quiz->title = "a \"b\" \\ \n \t \x01 \x7f é ♭";
    const auto again = parse_quiz(quiz_toml(*quiz));
    REQUIRE_MESSAGE(again.ok(), (again.ok() ? "" : again.error().message));
    CHECK(again->title == quiz->title);
}

TEST_CASE("Broken quiz files give one message each, with line and key") {
    struct Row {
        std::string text;
        std::string message;
    };
    const Row rows[] = {
        {kHead + "seed = = 3\n" + kPart, "line 3: this is no TOML"},
        {"title = \"T\"\n" + kPart, "line 1, key \"format\": is missing"},
        {"format = \"gripline quiz 9\"\ntitle = \"T\"\n" + kPart, "line 1, key \"format\": \"gripline quiz 9\" can't be read"},
        {"format = \"gripline quiz 1\"\n" + kPart, "line 1, key \"title\": is missing"},
        {kHead + "tries = 0\n" + kPart, "line 3, key \"tries\": 0 is out of range; 1 to 5 is allowed"},
        {kHead + "tries = \"two\"\n" + kPart, "line 3, key \"tries\": is a text; a whole number is wanted"},
        {kHead + "question-time-s = nan\n" + kPart, "line 3, key \"question-time-s\": nan is out of range; 2 to 600 is allowed"},
        {kHead + "order = \"random\"\n" + kPart, "line 3, key \"order\": unknown order \"random\"; allowed: fixed, same, own order, own questions"},
        {kHead + "colour = \"red\"\n" + kPart, "line 3, key \"colour\" is unknown; allowed:"},
        {kHead, "key \"part\": there is none"},
        {kHead + "[[part]]\nnumber = 3\n", "line 3, part 1, key \"qualities\": is missing"},
        {kHead + "[[part]]\nqualities = [\"mja7\"]\nnumber = 3\n", "line 4, part 1, key \"qualities\": unknown quality \"mja7\""},
        {kHead + "[[part]]\nqualities = [\"7\"]\n", "line 3, part 1, key \"number\": is missing"},
        {kHead + kPart + "keys = [\"C\", \"H\"]\n", "line 6, part 1, key \"keys\": "},
        {kHead + kPart + "asked = \"sung\"\n", "line 6, part 1, key \"asked\": unknown way of asking \"sung\"; allowed: shown, named, by ear"},
        {kHead + kPart + "\n[[part]]\ngrips = [\"8x89x\"]\n", "line 8, part 2, key \"grips\": "},
        {kHead + "[[part]]\ngrips = [\"8x89xx\"]\n", "line 4, part 1, key \"grips\": \"8x89xx\" has no chord"},
        {kHead + "[[part]]\nchart = \"no-such-chart\"\n", "line 4, part 1, key \"chart\": \"no-such-chart\" is neither a chart of the library"},
        {kHead + "[[part]]\nchart-text = \"| Cmja7 |\"\n", "line 4, part 1, key \"chart-text\": in the chart, line 1, bar 1, beat 1: unknown quality \"mja7\""},
        {kHead + "[[part]]\ngrips = [\"8x89xx C7\"]\nnumber = 2\n", "line 5, part 1, key \"number\": 2 is too many; there are 1 to ask"},
        {kHead + "tuning = \"X9\"\n" + kPart, "line 3, key \"tuning\": "},
        {kHead + kPart + "strings = \"6-4-1\"\n", "line 4, part 1, key \"qualities\": "},
    };
    for (const Row& row : rows) {
        CAPTURE(row.message);
        const auto quiz = parse_quiz(row.text);
        REQUIRE_FALSE(quiz.ok());
        CAPTURE(quiz.error().message);
        CHECK(quiz.error().message.starts_with(row.message));
        CHECK(quiz.error().message.find('\n') == std::string::npos);
    }
}

TEST_CASE("Every beginning of a quiz file, and every file with one byte changed, is read or refused in one line") {
    const auto whole = load_quiz(std::string(GRIPLINE_FIXTURES) + "/quizzes/week-three.toml");
    REQUIRE(whole.ok());
    const std::string text = kHead + kPart + "keys = [\"C\"]\n";
    for (std::size_t i = 0; i < text.size(); ++i) {
        (void)parse_quiz(text.substr(0, i));
        for (const char changed : {'\0', '"', '\xff', '9'}) {
            std::string altered = text;
            altered[i] = changed;
            const auto quiz = parse_quiz(altered);
            if (!quiz.ok()) CHECK(quiz.error().message.find('\n') == std::string::npos);
        }
    }
}
