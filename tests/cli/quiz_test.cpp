// gripline quiz: new and check.
#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <sstream>

#include "cli/quiz_commands.h"
#include "cli/run.h"
#include "formats/quiz_result_json.h"
#include "formats/quiz_toml.h"
#include "support/temp_folder.h"
#include "ui/quiz_run.h"

using namespace gripline;
using namespace gripline::test;

TEST_CASE("quiz new asks again after an answer that can't be, and writes a file that check reads") {
    const TempFolder folder;
    QuizOptions options;
    options.verb = QuizVerb::create;
    options.file = folder / "new.toml";
    std::istringstream in("My \"quiz\"\nby chance\nown order\n\n\n\n9\n2\n\n\n\nskills\n\n\n\n7, xx9\n7, m7\n\n\n\n6\nyes\nchart\nWalk\n\n\nblues\n\n\n8\nno\n");
    std::ostringstream out, err;
    REQUIRE(quiz_new(options, in, out, err) == kExitDone);
    CHECK(err.str().empty());
    CHECK(out.str().find("unknown order \"by chance\"") != std::string::npos);
    CHECK(out.str().find("9 is out of range; 1 to 5 is allowed") != std::string::npos);
    CHECK(out.str().find("  line ") == std::string::npos);  // of a file that nobody has seen yet
    CHECK(out.str().find("unknown quality \"xx9\"") != std::string::npos);
    const auto checked = run({"quiz", "check", options.file, "--json"});
    CHECK(checked.status == kExitDone);
    CHECK(std::count(checked.out.begin(), checked.out.end(), '\n') == 14);
}

TEST_CASE("quiz new asks on the spot again after words for numbers and yes or no, takes units and yes, and never throws a whole quiz away") {
    const TempFolder folder;
    QuizOptions options;
    options.file = folder / "new.toml";
    std::istringstream in("T\nsame\nabc\n07\nabc\n1.2.3\n15 s\nlong\n0\ntwo\n2\nmaybe\nyes\nN\nstandard\n"
                          "chart\nWalk\nby ear\nmost\n70%\nblues\n\nquick\n100\nxx\n\nfour\n8\nperhaps\nyes\n"
                          "skills\nS\n\n80 per cent\n7\nC\nchord\nshell\nmany\n0\n1\nn\n");
    std::ostringstream out, err;
    const int status = quiz_new(options, in, out, err);
    CAPTURE(out.str());
    CAPTURE(err.str());
    REQUIRE(status == kExitDone);
    for (const char* said : {"  \"abc\" is no number; write one such as 1\n", "  \"abc\" is no number; write one such as 20\n", "  \"1.2.3\" is no number", "  \"maybe\" is unknown; write yes or no\n", "  \"most\" is no number", "  write yes or no", "  \"many\" is no number", "  0 is out of range; 1 to ", "can't be asked by ear"})
        CHECK_MESSAGE(out.str().find(said) != std::string::npos, said);
    const auto quiz = load_quiz(options.file);
    REQUIRE_MESSAGE(quiz.ok(), (quiz.ok() ? "" : quiz.error().message));
    CHECK(quiz->seed == 7);
    CHECK(quiz->question_time_s == 15.0);
    CHECK(quiz->show_after_miss);
    CHECK_FALSE(quiz->may_pause);
    CHECK(quiz->parts[0].pass_percent == 70);
    CHECK(quiz->parts[1].pass_percent == 80);
}

TEST_CASE("A quiz without a title, or with an empty one, is refused") {
    const TempFolder folder;
    for (const char* title : {"", "title = \"\"\n", "title = \" \"\n"}) {
        std::ofstream(folder / "q.toml") << "format = \"gripline quiz 1\"\n" << title << "[[part]]\ngrips = [\"8x89xx C7\"]\n";
        const auto checked = run({"quiz", "check", folder / "q.toml"});
        CHECK(checked.status == kExitBadInput);
        CHECK(checked.err.find("a quiz has a title") != std::string::npos);
    }
}

TEST_CASE("quiz new keeps a file that is there, and writes nothing when the answers end early") {
    const TempFolder folder;
    QuizOptions options;
    options.file = folder / "new.toml";
    std::istringstream in("Title\nsame\n");
    std::ostringstream out, err;
    CHECK(quiz_new(options, in, out, err) == kExitBadInput);
    CHECK_FALSE(std::filesystem::exists(options.file));
    options.file = std::string(GRIPLINE_FIXTURES) + "/quizzes/week-three.toml";
    CHECK(quiz_new(options, in, out, err) == kExitBadInput);
    CHECK(err.str().find("is there already") != std::string::npos);
}

TEST_CASE("quiz check names the file, and a title can't move the cursor") {
    const TempFolder folder;
    const auto missing = run({"quiz", "check", folder / "none.toml"});
    CHECK(missing.status == kExitBadInput);
    CHECK(missing.err.find("none.toml: can't be read") != std::string::npos);
    std::ofstream(folder / "odd.toml") << "format = \"gripline quiz 1\"\ntitle = \"\\u001b[2J\\u009b5A\"\n[[part]]\ngrips = [\"8x89xx C7\"]\n";
    const auto odd = run({"quiz", "check", folder / "odd.toml"});
    CHECK(odd.status == kExitDone);
    CHECK(odd.out.find('\x1b') == std::string::npos);
    CHECK(odd.out.find("\xc2\x9b") == std::string::npos);
    CHECK(odd.out.starts_with("?[2J?5A: 1 question"));
}

TEST_CASE("quiz take --hand-in makes a result of an interrupted run as it stands, once, with its sounds") {
    const TempFolder folder;
    const std::string place = folder / "run";
    {
        QuizRun taken(place, grips_quiz());
        taken.open();
        taken.check();
        for (const char key : {'p', 'm'}) {
            taken.press(key);
            taken.wait(1.7);
        }
        REQUIRE(taken.play->runner().progress().answers.size() == 2);
    }  // the power is cut in the third question
    CHECK(run({"class", folder.path().string()}).err.find("this run was interrupted; gripline quiz take --resume goes on with it, --hand-in hands it in") != std::string::npos);
    const auto handed = run({"quiz", "take", "--resume", place, "--hand-in"});
    CHECK(handed.status == kExitDone);
    CHECK(handed.out.starts_with("Handed in as it stands: Student <one>, 2 of 4 questions answered, 1 right, hand-in code "));
    const auto result = load_quiz_result(place);
    REQUIRE_MESSAGE(result.ok(), (result.ok() ? "" : result.error().message));
    CHECK(result->ending == QuizEnding::handed_in);
    CHECK(result->answers[0].outcome == QuizOutcome::right);
    CHECK(result->answers[1].outcome == QuizOutcome::wrong);
    CHECK(result->answers[2].outcome == QuizOutcome::not_reached);
    CHECK(result->answers[1].sound.file == "answer-002.flac");
    CHECK(result->breaks.front().reason == "program stopped");
    CHECK(run({"quiz", "verify", place}).status == kExitDone);
    CHECK_FALSE(std::filesystem::exists(place + "/journal.jsonl"));
    const auto again = run({"quiz", "take", "--resume", place, "--hand-in"});
    CHECK(again.status == kExitBadInput);
    CHECK(again.err.find("this run is handed in already") != std::string::npos);
    CHECK(run({"quiz", "take", "--resume", folder / "none", "--hand-in"}).err.find("there is no journal; name the folder of an interrupted run") != std::string::npos);
    CHECK(run({"quiz", "take", "--hand-in"}).status == 2);
}
