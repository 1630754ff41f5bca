// The terminal: shows canvases, reads keys, and is given back as it was found whatever happens. The only place that knows ncurses.
#pragma once

#include <memory>
#include <optional>
#include <string>

#include "base/result.h"
#include "ui/canvas.h"

namespace gripline {

/// Keys that are no character.
enum class SpecialKey : int { none, up, down, left, right, enter, escape, page_up, page_down };

/// One key press: a printable ASCII character, or a special key, or something else that no screen asks for.
struct KeyPress {
    char character = 0;  ///< 32 to 126, or 0
    SpecialKey special = SpecialKey::none;
    [[nodiscard]] bool known() const noexcept { return character != 0 || special != SpecialKey::none; }
};

/// Where a screen is shown and keys come from. Tests bring their own.
class Display {
public:
    virtual ~Display() = default;
    [[nodiscard]] virtual int columns() const = 0;
    [[nodiscard]] virtual int rows() const = 0;
    [[nodiscard]] virtual CharacterSet characters() const = 0;
    /// Shows a canvas of the display's size.
    virtual void show(const Canvas& canvas) = 0;
    /// Waits for a key, at most `wait_ms`. Nothing: no key came (the size may have changed, or a signal asked to stop).
    virtual std::optional<KeyPress> key(int wait_ms) = 0;
    /// True once the session was asked to end from outside: interrupt, termination, hang-up.
    [[nodiscard]] virtual bool asked_to_stop() const = 0;
};

struct TerminalOptions {
    std::optional<CharacterSet> characters;  ///< nothing: by locale and terminal type
    std::optional<bool> colours;             ///< nothing: unless NO_COLOR is set (no-color.org) or the terminal has none
};

/// One at a time. From `open` to destruction the terminal is in screen mode. Interrupt, termination and hang-up only set `asked_to_stop`;
/// a crash gives the terminal back before the process dies of it; stop and continue (Ctrl-Z, fg) leave and come back.
class Terminal final : public Display {
public:
    /// An error says why there can be no screen: not a terminal, unknown type, or one that can't place its cursor.
    static Result<std::unique_ptr<Terminal>> open(const TerminalOptions& options = {});
    ~Terminal() override;
    Terminal(const Terminal&) = delete;
    Terminal& operator=(const Terminal&) = delete;

    [[nodiscard]] int columns() const override;
    [[nodiscard]] int rows() const override;
    [[nodiscard]] CharacterSet characters() const override { return characters_; }
    void show(const Canvas& canvas) override;
    std::optional<KeyPress> key(int wait_ms) override;
    [[nodiscard]] bool asked_to_stop() const override;

private:
    struct Inside;
    explicit Terminal(const TerminalOptions& options, std::unique_ptr<Inside> inside);

    CharacterSet characters_;
    std::unique_ptr<Inside> inside_;
};

/// UTF-8 when the codeset is UTF-8 and the terminal type can be expected to draw half blocks; else ASCII. Pure, for tests.
[[nodiscard]] CharacterSet characters_for(const std::string& codeset, const std::string& terminal_type);

}  // namespace gripline
