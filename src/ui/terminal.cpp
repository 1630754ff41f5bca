#include "ui/terminal.h"

#include <langinfo.h>
#include <ncurses.h>
#include <term.h>
#include <termios.h>
#include <unistd.h>

#include <array>
#include <clocale>
#include <csignal>
#include <cstdlib>
#include <cstring>

// term.h makes macros of these words.
#undef columns
#undef lines
#undef tone

#include "ui/text_layout.h"

namespace gripline {
namespace {

constexpr int kEscapeDelay_ms = 25;  // long enough for an arrow key's bytes over a local line (ncurses(3x), ESCDELAY)
constexpr const char* kSetTerm = "set TERM to what your terminal is, for example xterm-256color";
constexpr std::array kStopSignals = {SIGINT, SIGTERM, SIGHUP};
constexpr std::array kCrashSignals = {SIGSEGV, SIGBUS, SIGFPE, SIGILL, SIGABRT};

volatile std::sig_atomic_t g_stop = 0;

// What a crash handler needs; only plain data, written before the handler is set.
termios g_modes_before{};
bool g_have_modes = false;
char g_leave[256];
std::size_t g_leave_bytes = 0;

bool g_open = false;

void on_stop(int) { g_stop = 1; }

/// For std::exit from anywhere while the screen is up.
void on_exit_called() {
    if (g_open) endwin();
}

/// Async-signal-safe: write, tcsetattr, signal and raise only (POSIX.1-2017, 2.4.3).
void on_crash(int number) {
    if (write(STDOUT_FILENO, g_leave, g_leave_bytes) < 0) g_leave_bytes = 0;
    if (g_have_modes) tcsetattr(STDIN_FILENO, TCSANOW, &g_modes_before);
    std::signal(number, SIG_DFL);
    raise(number);
}

void remember_leaving() {
    g_leave_bytes = 0;
    for (const char* capability : {"sgr0", "cnorm", "rmkx", "rmcup"}) {
        const char* text = tigetstr(capability);
        if (text == nullptr || text == reinterpret_cast<char*>(-1)) continue;
        const std::size_t length = std::strlen(text);
        if (g_leave_bytes + length > sizeof g_leave) break;
        std::memcpy(g_leave + g_leave_bytes, text, length);
        g_leave_bytes += length;
    }
}

int attributes_of(Tone tone, bool colours) {
    const auto pair = [&](int number) { return colours ? static_cast<int>(COLOR_PAIR(number)) : 0; };
    switch (tone) {
        case Tone::plain: return 0;
        case Tone::quiet: return colours ? static_cast<int>(A_DIM) : 0;
        case Tone::strong:
        case Tone::heading: return A_BOLD;
        case Tone::good: return static_cast<int>(A_BOLD) | pair(1);
        case Tone::bad: return static_cast<int>(A_BOLD | A_REVERSE) | pair(2);
        case Tone::warning: return static_cast<int>(A_BOLD | A_UNDERLINE) | pair(3);
    }
    return 0;
}

KeyPress key_press(int code) {
    switch (code) {
        case KEY_UP: return {0, SpecialKey::up};
        case KEY_DOWN: return {0, SpecialKey::down};
        case KEY_LEFT: return {0, SpecialKey::left};
        case KEY_RIGHT: return {0, SpecialKey::right};
        case KEY_PPAGE: return {0, SpecialKey::page_up};
        case KEY_NPAGE: return {0, SpecialKey::page_down};
        case KEY_ENTER:
        case '\n':
        case '\r': return {0, SpecialKey::enter};
        case 27: return {0, SpecialKey::escape};
        default: return code >= 32 && code < 127 ? KeyPress{static_cast<char>(code), SpecialKey::none} : KeyPress{};
    }
}

}  // namespace

struct Terminal::Inside {
    SCREEN* screen = nullptr;
    bool colours = false;
    std::array<struct sigaction, kStopSignals.size()> stop_before{};
    std::array<struct sigaction, kCrashSignals.size()> crash_before{};
};

CharacterSet characters_for(const std::string& codeset, const std::string& terminal_type) {
    const bool old = terminal_type == "dumb" || terminal_type.rfind("vt", 0) == 0 || terminal_type == "ansi";
    return codeset == "UTF-8" && !old ? CharacterSet::utf8 : CharacterSet::ascii;
}

Result<std::unique_ptr<Terminal>> Terminal::open(const TerminalOptions& options) {
    if (isatty(STDIN_FILENO) == 0 || isatty(STDOUT_FILENO) == 0)
        return Error{"the practice screen needs a terminal, and standard input or output is none"};
    std::setlocale(LC_ALL, "");
    std::setlocale(LC_NUMERIC, "C");
    const char* type = std::getenv("TERM");
    const std::string type_words = type == nullptr || *type == 0 ? "(TERM is not set)" : type;
    int status = 0;
    if (setupterm(nullptr, STDOUT_FILENO, &status) != OK) return Error{"terminal type " + type_words + " is not known here: " + kSetTerm};
    const bool places_cursor = tigetstr("cup") != nullptr;
    remember_leaving();
    del_curterm(cur_term);  // newterm makes its own, and would only forget this one
    if (!places_cursor) return Error{"terminal type " + type_words + " can't place its cursor: " + kSetTerm};

    auto inside = std::make_unique<Inside>();
    g_stop = 0;
    g_have_modes = tcgetattr(STDIN_FILENO, &g_modes_before) == 0;
    // Before newterm, so that ncurses leaves these to us.
    struct sigaction action {};
    action.sa_handler = on_stop;
    for (std::size_t i = 0; i < kStopSignals.size(); ++i) sigaction(kStopSignals[i], &action, &inside->stop_before[i]);
    set_escdelay(kEscapeDelay_ms);
    inside->screen = newterm(nullptr, stdout, stdin);
    if (inside->screen == nullptr) {
        for (std::size_t i = 0; i < kStopSignals.size(); ++i) sigaction(kStopSignals[i], &inside->stop_before[i], nullptr);
        return Error{"terminal type " + type_words + " can't show a screen: " + kSetTerm};
    }
    static const int registered = std::atexit(on_exit_called);
    static_cast<void>(registered);
    g_open = true;
    action.sa_handler = on_crash;
    for (std::size_t i = 0; i < kCrashSignals.size(); ++i) sigaction(kCrashSignals[i], &action, &inside->crash_before[i]);
    return std::unique_ptr<Terminal>(new Terminal(options, std::move(inside)));
}

Terminal::Terminal(const TerminalOptions& options, std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {
    const char* type = std::getenv("TERM");
    characters_ = options.characters.value_or(characters_for(nl_langinfo(CODESET), type == nullptr ? "" : type));
    cbreak();
    noecho();
    nonl();
    keypad(stdscr, TRUE);
    curs_set(0);
    const char* no_colour = std::getenv("NO_COLOR");
    const bool wanted = options.colours.value_or(no_colour == nullptr || *no_colour == 0);
    inside_->colours = wanted && has_colors();
    if (!inside_->colours) return;
    start_color();
    use_default_colors();
    init_pair(1, COLOR_GREEN, -1);
    init_pair(2, COLOR_RED, -1);
    init_pair(3, COLOR_YELLOW, -1);
}

Terminal::~Terminal() {
    endwin();
    g_open = false;
    delscreen(inside_->screen);
    for (std::size_t i = 0; i < kStopSignals.size(); ++i) sigaction(kStopSignals[i], &inside_->stop_before[i], nullptr);
    for (std::size_t i = 0; i < kCrashSignals.size(); ++i) sigaction(kCrashSignals[i], &inside_->crash_before[i], nullptr);
}

int Terminal::columns() const { return getmaxx(stdscr); }
int Terminal::rows() const { return getmaxy(stdscr); }
bool Terminal::asked_to_stop() const { return g_stop != 0; }

void Terminal::show(const Canvas& canvas) {
    erase();
    const int last_column = columns() - 1;
    const int last_row = rows() - 1;
    for (int y = 0; y < canvas.rows(); ++y) {
        for (int x = 0; x < canvas.columns(); ++x) {
            const Cell& cell = canvas.cell(x, y);
            if (cell.character == U' ' && cell.tone == Tone::plain) continue;
            const std::string utf8 = encode_utf8(cell.character);
            attrset(attributes_of(cell.tone, inside_->colours));
            // The last cell can't be written without the cursor leaving the window; ncurses writes it and says ERR.
            if (mvaddstr(y, x, utf8.c_str()) == ERR && !(x == last_column && y == last_row)) break;
        }
    }
    attrset(0);
    refresh();
}

std::optional<KeyPress> Terminal::key(int wait_ms) {
    timeout(wait_ms);
    const int code = getch();
    if (code == ERR || code == KEY_RESIZE) return std::nullopt;
    return key_press(code);
}

}  // namespace gripline
