#include <doctest/doctest.h>

#include <deque>
#include <functional>

#include "ui/played_sound.h"
#include "ui/practice_app.h"

using namespace gripline;

namespace {

/// The clock of the played sound, as the loop wants it.
class SoundClock final : public Clock {
public:
    explicit SoundClock(const test::PlayedSound& sound) : sound_(sound) {}
    [[nodiscard]] double now_s() const noexcept override { return sound_.now_s(); }

private:
    const test::PlayedSound& sound_;
};

/// A display that does something at each wait for a key; waiting moves the sound on.
class WaitingDisplay final : public Display {
public:
    explicit WaitingDisplay(test::PlayedSound& sound) : sound_(sound) {}
    [[nodiscard]] int columns() const override { return columns_; }
    [[nodiscard]] int rows() const override { return rows_; }
    [[nodiscard]] CharacterSet characters() const override { return CharacterSet::ascii; }
    void show(const Canvas& canvas) override {
        shown_.push_back({sound_.now_s(), canvas.text()});
        sized_right_ = sized_right_ && canvas.columns() == columns_ && canvas.rows() == rows_;
    }
    std::optional<KeyPress> key(int wait_ms) override {
        sound_.advance(wait_ms / 1000.0, [](double) {});
        longest_wait_ms_ = std::max(longest_wait_ms_, wait_ms);
        return each_ ? each_(sound_.now_s()) : std::nullopt;
    }
    [[nodiscard]] bool asked_to_stop() const override { return sound_.now_s() > stop_at_s_; }

    struct Shown {
        double at_s;
        std::string text;
    };
    std::function<std::optional<KeyPress>(double)> each_;
    std::vector<Shown> shown_;
    int columns_ = 80, rows_ = 24, longest_wait_ms_ = 0;
    double stop_at_s_ = 3.0;
    bool sized_right_ = true;

private:
    test::PlayedSound& sound_;
};

struct Loop {
    test::PlayedSound sound;
    SoundClock clock{sound};
    WaitingDisplay display{sound};
    PracticeRun run{PracticeRunConfig{}, sound, 0.0};
    void go() { practice_loop(run, display, clock); }
};

}  // namespace

TEST_CASE("The loop ends by the quit key, and when the process is asked to stop") {
    Loop quit;
    quit.display.each_ = [](double) { return std::optional<KeyPress>({'q', SpecialKey::none}); };
    quit.go();
    CHECK(quit.sound.now_s() < 0.1);
    Loop stopped;
    stopped.go();
    CHECK(stopped.sound.now_s() > 3.0);
    CHECK(stopped.sound.now_s() < 3.1);
}

TEST_CASE("Pictures are shown on change only, at most 30 a second even under a held key, and never wait longer than 15 ms for one") {
    Loop held;
    held.display.each_ = [](double) { return std::optional<KeyPress>({'n', SpecialKey::none}); };
    held.go();
    CHECK(held.display.shown_.size() <= 3.1 * 30);
    CHECK(held.display.shown_.size() >= 3 * 20);
    CHECK(held.display.longest_wait_ms_ <= 15);
    for (std::size_t i = 1; i < held.display.shown_.size(); ++i) CHECK(held.display.shown_[i].text != held.display.shown_[i - 1].text);
}

TEST_CASE("A verdict is on the screen within 15 ms of the loop's hearing it and 350 ms of the key") {
    Loop loop;
    bool pressed = false;
    double at_s = 0.0;
    loop.display.each_ = [&](double now_s) -> std::optional<KeyPress> {
        if (pressed || now_s < 1.0) return std::nullopt;
        pressed = true;
        at_s = now_s;
        return KeyPress{'p', SpecialKey::none};
    };
    loop.go();
    double shown_s = -1.0;
    for (const auto& shown : loop.display.shown_) {
        if (shown_s < 0.0 && shown.text.find("Right.") != std::string::npos) shown_s = shown.at_s;
    }
    REQUIRE(shown_s > 0.0);
    REQUIRE(loop.run.session().counts().right == 1);
    CHECK(shown_s - at_s < 0.35);
}

TEST_CASE("A change of size is drawn at the next turn, in that size, whatever it is") {
    Loop loop;
    const std::vector<std::pair<int, int>> sizes = {{120, 40}, {40, 12}, {1, 1}, {200, 3}, {3, 60}, {80, 24}};
    std::size_t at = 0;
    loop.display.each_ = [&](double now_s) -> std::optional<KeyPress> {
        if (now_s > 0.3 * static_cast<double>(at + 1) && at < sizes.size()) {
            loop.display.columns_ = sizes[at].first;
            loop.display.rows_ = sizes[at].second;
            ++at;
        }
        return std::nullopt;
    };
    loop.go();
    CHECK(at == sizes.size());
    CHECK(loop.display.sized_right_);
}

TEST_CASE("After a session what was chosen on the screen is kept; the remembered input stays as it was, whatever the session listened to") {
    Loop loop;
    Settings before;
    before.device = "line in";
    before.root = "Eb";
    const Settings after = settings_after(before, loop.run);
    CHECK(after.device == "line in");
    CHECK(after.root == loop.run.course().root.text());
}
