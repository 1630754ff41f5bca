#include <doctest/doctest.h>

#include <poll.h>
#include <pty.h>
#include <sys/ioctl.h>
#include <sys/wait.h>
#include <termios.h>
#include <unistd.h>

#include <csignal>
#include <cstdlib>
#include <functional>
#include <iostream>
#include <stdexcept>
#include <string>

#include "support/temp_folder.h"
#include "ui/name_it_app.h"
#include "ui/practice_app.h"
#include "ui/terminal.h"
#include "ui/walk_app.h"

using namespace gripline;

namespace {

/// A child process that runs `body` on a pseudo-terminal of 80 x 24.
class OnTerminal {
public:
    OnTerminal(const char* type, const std::function<int()>& body) {
        winsize size{24, 80, 0, 0};
        child_ = forkpty(&terminal_, nullptr, nullptr, &size);
        REQUIRE(child_ >= 0);
        if (child_ != 0) return;
        setenv("TERM", type, 1);
        setenv("LC_ALL", "C.UTF-8", 1);
        _exit(body());
    }
    ~OnTerminal() {
        if (!ended_) kill(child_, SIGKILL);
        if (!ended_) waitpid(child_, nullptr, 0);
        close(terminal_);
    }

    /// Reads what is written until `text` appears, the child ends or five seconds pass.
    bool shows(const std::string& text) {
        for (int i = 0; i < 50 && written_.find(text) == std::string::npos; ++i) read_some(100);
        return written_.find(text) != std::string::npos;
    }
    void signal(int number) { kill(child_, number); }
    void type(const std::string& keys) { REQUIRE(write(terminal_, keys.data(), keys.size()) == static_cast<ssize_t>(keys.size())); }
    void resize(unsigned short columns, unsigned short rows) {
        winsize size{rows, columns, 0, 0};
        ioctl(terminal_, TIOCSWINSZ, &size);
    }
    /// Waits for the child's end and returns its wait status.
    int end() {
        int status = 0;
        for (int i = 0; i < 100 && waitpid(child_, &status, WNOHANG) == 0; ++i) read_some(50);
        ended_ = true;
        read_some(50);
        return status;
    }
    /// Echo and line mode are back, and the alternate screen was left (xterm's rmcup, terminfo).
    [[nodiscard]] bool given_back() const {
        termios modes{};
        if (tcgetattr(terminal_, &modes) != 0) return false;
        const bool lines = (modes.c_lflag & ECHO) != 0 && (modes.c_lflag & ICANON) != 0;
        return lines && written_.rfind("\x1b[?1049l") != std::string::npos && written_.rfind("\x1b[?1049l") > written_.rfind("\x1b[?1049h");
    }
    [[nodiscard]] const std::string& written() const { return written_; }

private:
    void read_some(int wait_ms) {
        pollfd ready{terminal_, POLLIN, 0};
        if (poll(&ready, 1, wait_ms) <= 0) return;
        char bytes[4096];
        const ssize_t count = read(terminal_, bytes, sizeof bytes);
        if (count > 0) written_.append(bytes, static_cast<std::size_t>(count));
        else usleep(static_cast<useconds_t>(wait_ms) * 1000U);  // the child's side is closed: poll no longer waits
    }

    pid_t child_ = -1;
    int terminal_ = -1;
    bool ended_ = false;
    std::string written_;
};

void show_words(Display& display, const std::string& words) {
    Canvas canvas(display.columns(), display.rows(), display.characters());
    canvas.text(0, 0, words, Tone::good);
    canvas.put(display.columns() - 1, display.rows() - 1, U'\u2588');
    display.show(canvas);
}

/// Shows "ready", then does `then` at each turn until asked to stop; 0 at a clean end, 3 when there is no terminal.
int screen(const std::function<void(Display&)>& then) {
    auto terminal = Terminal::open();
    if (!terminal) return 3;
    show_words(**terminal, "ready");
    while (!(*terminal)->asked_to_stop()) then(**terminal);
    return 0;
}

const auto kWait = [](Display& display) { display.key(20); };

}  // namespace

TEST_CASE("Interrupt, termination and hang-up end the screen cleanly and give the terminal back") {
    for (const int number : {SIGINT, SIGTERM, SIGHUP}) {
        OnTerminal child("xterm", [] { return screen(kWait); });
        REQUIRE(child.shows("ready"));
        child.signal(number);
        const int status = child.end();
        CHECK(WIFEXITED(status));
        CHECK(WEXITSTATUS(status) == 0);
        CHECK(child.given_back());
    }
}

TEST_CASE("Ctrl-C typed does the same") {
    OnTerminal child("xterm", [] { return screen(kWait); });
    REQUIRE(child.shows("ready"));
    child.type("\x03");
    CHECK(WEXITSTATUS(child.end()) == 0);
    CHECK(child.given_back());
}

TEST_CASE("A crash gives the terminal back and still ends as that crash") {
    for (const int number : {SIGSEGV, SIGBUS, SIGFPE, SIGILL, SIGABRT}) {
        OnTerminal child("xterm", [] { return screen(kWait); });
        REQUIRE(child.shows("ready"));
        child.signal(number);
        const int status = child.end();
        CHECK(WIFSIGNALED(status));
        CHECK(WTERMSIG(status) == number);
        CHECK(child.given_back());
    }
}

TEST_CASE("An exception nobody catches, and an exit from the depths, give the terminal back") {
    OnTerminal thrown("xterm", [] {
        return screen([](Display& display) {
            const std::function<void()> bug = [] { throw std::runtime_error("bug"); };
            if (display.key(20)) [&]() noexcept { bug(); }();
        });
    });
    REQUIRE(thrown.shows("ready"));
    thrown.type("x");
    CHECK(WIFSIGNALED(thrown.end()));
    CHECK(thrown.given_back());
    OnTerminal left("xterm", [] {
        return screen([](Display& display) {
            if (display.key(20)) std::exit(7);
        });
    });
    REQUIRE(left.shows("ready"));
    left.type("x");
    CHECK(WEXITSTATUS(left.end()) == 7);
    CHECK(left.given_back());
}

TEST_CASE("Keys arrive as what they are, and a new size is seen") {
    OnTerminal child("xterm", [] {
        return screen([](Display& display) {
            static int columns = 80;
            if (display.columns() != columns) show_words(display, "size " + std::to_string(columns = display.columns()));
            const auto key = display.key(20);
            if (!key) return;
            if (key->character != 0) show_words(display, std::string("key <") + key->character + ">");
            else if (key->special == SpecialKey::up) show_words(display, "key up");
            else if (key->special == SpecialKey::enter) show_words(display, "key enter");
            else if (!key->known()) show_words(display, "key unknown");
        });
    });
    REQUIRE(child.shows("ready"));
    child.type("n");
    CHECK(child.shows("<n>"));
    child.type("\x1bOA");  // xterm's kcuu1 in application mode (terminfo)
    CHECK(child.shows("up"));
    child.type("\r");
    CHECK(child.shows("enter"));
    child.type("\x1b[15~");  // kf5
    CHECK(child.shows("unknown"));
    child.resize(100, 30);
    CHECK(child.shows("size 100"));
}

TEST_CASE("NO_COLOR leaves colours out; without it words are coloured") {
    const auto run = [](const char* value) {
        OnTerminal child("xterm", [value] {
            if (value != nullptr) setenv("NO_COLOR", value, 1);
            else unsetenv("NO_COLOR");
            return screen(kWait);
        });
        CHECK(child.shows("ready"));
        child.signal(SIGTERM);
        child.end();
        return child.written().find("\x1b[32m") != std::string::npos;  // setaf 2, ECMA-48 SGR 32: green
    };
    CHECK(run(nullptr));
    CHECK(run(""));  // no-color.org: an empty value does not count
    CHECK_FALSE(run("1"));
}

TEST_CASE("A terminal that can't show a screen is refused in words, not drawn on") {
    for (const char* type : {"dumb", "no-such-terminal", ""}) {
        OnTerminal child(type, [] {
            const auto terminal = Terminal::open();
            return !terminal && terminal.error().message.find("set TERM") != std::string::npos ? 0 : 1;
        });
        CHECK(WEXITSTATUS(child.end()) == 0);
    }
}

TEST_CASE("Walk, practice and name-it say on standard error that the terminal can't show a screen") {
    const std::function<int(std::ostream&)> screens[] = {
        [](std::ostream& err) { return run_walk({}, std::cout, err); },
        [](std::ostream& err) { return run_practice({}, std::cout, err); },
        [](std::ostream& err) { return run_name_it({}, std::cout, err); },
    };
    const test::TempFolder home;  // nothing of the tester's is read or written
    for (const auto& each : screens) {
        for (const char* type : {"dumb", "no-such-terminal"}) {
            OnTerminal child(type, [&] {
                for (const char* folder : {"HOME", "XDG_CONFIG_HOME", "XDG_STATE_HOME", "XDG_DATA_HOME"}) setenv(folder, (home / "").c_str(), 1);
                return each(std::cerr);  // whose descriptor is what the log takes
            });
            const int status = child.end();
            CHECK(WEXITSTATUS(status) == 1);
            CHECK_MESSAGE(child.written().find("set TERM to what your terminal is") != std::string::npos, child.written());
        }
    }
}

TEST_CASE("UTF-8 is drawn where locale and terminal type can be expected to show it") {
    CHECK(characters_for("UTF-8", "xterm-256color") == CharacterSet::utf8);
    CHECK(characters_for("UTF-8", "linux") == CharacterSet::utf8);
    CHECK(characters_for("UTF-8", "vt100") == CharacterSet::ascii);
    CHECK(characters_for("ANSI_X3.4-1968", "xterm") == CharacterSet::ascii);
    CHECK(characters_for("ISO-8859-1", "xterm") == CharacterSet::ascii);
}
