// gripline quiz: new and check.
#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <sstream>

#include "cli/quiz_commands.h"
#include "cli/run.h"
#include "support/temp_folder.h"

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
    CHECK(out.str().find("unknown quality \"xx9\"") != std::string::npos);
    const auto checked = run({"quiz", "check", options.file, "--json"});
    CHECK(checked.status == kExitDone);
    CHECK(std::count(checked.out.begin(), checked.out.end(), '\n') == 14);
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
