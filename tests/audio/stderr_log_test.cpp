// What is printed on standard error goes to the log, and comes back to the terminal afterwards.
#include <doctest/doctest.h>

#include <unistd.h>

#include <cstdlib>
#include <fstream>
#include <sstream>

#include "audio/stderr_log.h"
#include "support/temp_folder.h"

using namespace gripline;

namespace {

void print(const std::string& text) { REQUIRE(::write(STDERR_FILENO, text.data(), text.size()) == static_cast<ssize_t>(text.size())); }

std::string content(const std::string& path) {
    std::ostringstream text;
    text << std::ifstream(path).rdbuf();
    return text.str();
}

}  // namespace

TEST_CASE("Standard error is a file of the state folder for a while, appended to, and begun anew above 1 MB") {
    const test::TempFolder folder;
    ::setenv("XDG_STATE_HOME", folder.path().c_str(), 1);
    const std::string expected = folder / "gripline/gripline.log";
    for (const char* const text : {"one\n", "two\n"}) {
        const StderrToLog log;
        CHECK(log.path() == expected);
        print(text);
    }
    CHECK(content(expected) == "one\ntwo\n");
    std::ofstream(expected) << std::string(1'000'001, 'x');
    {
        const StderrToLog log;
        print("three\n");
    }
    CHECK(content(expected) == "three\n");
    ::unsetenv("XDG_STATE_HOME");
}

TEST_CASE("Where no log can be written, what is printed is dropped") {
    ::setenv("XDG_STATE_HOME", "/dev/null", 1);
    {
        const StderrToLog log;
        CHECK(log.path().empty());
        print("this must not be seen\n");
    }
    ::unsetenv("XDG_STATE_HOME");
}
