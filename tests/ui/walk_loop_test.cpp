// The walk screen's loop on a test clock: how often it draws, and how it ends.
#include "ui/walk_loop.h"

#include <doctest/doctest.h>

#include <functional>
#include <utility>

#include "ui/golden.h"
#include "ui/walk_fixture.h"

using namespace gripline;

namespace {

class WalkClock final : public Clock {
public:
    explicit WalkClock(const test::PlayedWalkSound& sound) : sound_(sound) {}
    [[nodiscard]] double now_s() const noexcept override { return sound_.now_s(); }

private:
    const test::PlayedWalkSound& sound_;
};

/// Waiting for a key moves the sound on; a key is made by `each`.
class MovingDisplay final : public Display {
public:
    explicit MovingDisplay(test::PlayedWalkSound& sound) : sound_(sound) {}
    [[nodiscard]] int columns() const override { return columns_; }
    [[nodiscard]] int rows() const override { return rows_; }
    [[nodiscard]] CharacterSet characters() const override { return CharacterSet::ascii; }
    void show(const Canvas& canvas) override {
        ++shown_;
        last_ = canvas.text();
        sized_right_ = sized_right_ && canvas.columns() == columns_ && canvas.rows() == rows_;
    }
    std::optional<KeyPress> key(int wait_ms) override {
        CHECK(wait_ms <= 15);
        for (const double until_s = sound_.now_s() + wait_ms / 1000.0; sound_.now_s() < until_s;) sound_.advance_hop();
        return each_ ? each_(sound_.now_s()) : std::nullopt;
    }
    [[nodiscard]] bool asked_to_stop() const override { return sound_.now_s() > stop_at_s_; }

    std::function<std::optional<KeyPress>(double)> each_;
    std::string last_;
    int columns_ = 80, rows_ = 24, shown_ = 0;
    double stop_at_s_ = 6.0;
    bool sized_right_ = true;

private:
    test::PlayedWalkSound& sound_;
};

struct LoopedWalk {
    explicit LoopedWalk(WalkRunConfig config = {}) : walk(std::move(config)) {}
    void go() { walk_loop(walk.run, display, clock, count); }
    test::Walk walk;
    WalkClock clock{walk.sound};
    MovingDisplay display{walk.sound};
    PictureCount count;
};

WalkRunConfig fast() {
    WalkRunConfig config;
    config.steps = TempoSteps(240.0, 0.0);
    return config;
}

}  // namespace

TEST_CASE("A walk at 240 a minute is drawn at most 30 times a second, also under a held key, and at least at every count") {
    for (const bool held : {false, true}) {
        CAPTURE(held);
        LoopedWalk loop(fast());
        bool started = false;
        loop.display.each_ = [&](double) -> std::optional<KeyPress> {
            if (!started) {
                started = true;
                return KeyPress{' ', SpecialKey::none};
            }
            return held ? std::optional(KeyPress{'c', SpecialKey::none}) : std::nullopt;
        };
        loop.go();
        CHECK(loop.walk.run.over());
        CHECK(loop.count.pictures() == loop.display.shown_);
        CHECK(loop.count.most_in_a_second() <= 30);
        CHECK(loop.count.pictures() >= 6 * 4);
        CHECK(loop.count.latest_s() > 0.0);
        CHECK(loop.count.latest_s() <= 1.0 / 30.0 + 0.015);
    }
}

TEST_CASE("A walk that is asked to stop from outside ends as by the key: what was strummed is summed up and handed on") {
    WalkRunConfig config = fast();
    int done = 0;
    config.done = [&](const WalkDone& walk) {
        ++done;
        CHECK(walk.hearing.results().size() >= 12);
        return std::string();
    };
    LoopedWalk loop(config);
    bool started = false;
    loop.display.each_ = [&](double) -> std::optional<KeyPress> {
        return std::exchange(started, true) ? std::nullopt : std::optional(KeyPress{' ', SpecialKey::none});
    };
    loop.go();
    CHECK(loop.walk.run.over());
    CHECK(done == 1);
}

TEST_CASE("A change of size is drawn at the next turn, in that size, while walking") {
    LoopedWalk loop(fast());
    const std::vector<std::pair<int, int>> sizes = {{120, 40}, {40, 12}, {1, 1}, {200, 3}, {3, 60}, {80, 24}};
    std::size_t at = 0;
    bool started = false;
    loop.display.each_ = [&](double now_s) -> std::optional<KeyPress> {
        if (now_s > 0.8 * static_cast<double>(at + 1) && at < sizes.size()) {
            loop.display.columns_ = sizes[at].first;
            loop.display.rows_ = sizes[at].second;
            ++at;
        }
        return std::exchange(started, true) ? std::nullopt : std::optional(KeyPress{' ', SpecialKey::none});
    };
    loop.go();
    CHECK(at == sizes.size());
    CHECK(loop.display.sized_right_);
}

TEST_CASE("Pictures: the help of a walk, page by page, at three sizes") {
    for (const auto& [columns, rows] : {std::pair{80, 24}, {120, 40}, {40, 12}}) {
        test::Walk walk;
        walk.press('?');
        std::string all;
        while (all.find("on to the walk") == std::string::npos) {
            REQUIRE(all.size() < 100000);
            all += walk.picture(columns, rows) + "----\n";
            walk.run.press({' ', SpecialKey::none}, walk.sound.now_s(), columns, rows);
        }
        test::check_golden("walk-help-" + std::to_string(columns) + "x" + std::to_string(rows), all);
        CHECK(walk.shows("Space starts"));
    }
}
