// "Name it" at work: keys in, sounds and pictures out. No terminal, no device and no clock of its own.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>

#include "practice/attempt_keeper.h"
#include "practice/name_it.h"
#include "practice/planned_steps.h"
#include "practice/session_summary.h"
#include "ui/help_screen.h"
#include "ui/name_it_screen.h"
#include "ui/practice_plan.h"
#include "ui/practice_sound.h"
#include "ui/session_clock.h"
#include "ui/terminal.h"

namespace gripline {

struct NameItConfig {
    Exercise pool;               ///< of make_name_it()
    Neck neck;                   ///< for the diagram
    PracticePlan plan;           ///< planned or shuffled, length, breaks
    std::uint32_t seed = 1;
    bool show_cautions = false;  ///< first start: cautions before anything sounds
    std::string notice;
    AttemptKeeper* keeper = nullptr;  ///< where attempts go, outlives the run; none: nothing is kept
    NameItTimes times;
};

class NameItRun {
public:
    /// `sound` must outlive the run, and have an output.
    NameItRun(NameItConfig config, PracticeSound& sound, double now_s);

    void press(const KeyPress& key, double now_s, int columns, int rows);
    /// Lets time pass. True when something changed.
    bool listen(double now_s);
    void draw(Canvas& canvas, double now_s) const;

    [[nodiscard]] bool over() const noexcept { return over_; }
    [[nodiscard]] bool cautions_read() const noexcept { return !config_.show_cautions; }
    [[nodiscard]] const NameItSession& session() const noexcept { return session_; }
    /// How it went so far, in five lines.
    [[nodiscard]] std::array<std::string, 5> summary(double now_s) const { return summary_.lines(clock_.played_s(now_s)); }
    /// "quality 4 of 6  bass degree 1 of 1"; "nothing answered yet".
    [[nodiscard]] std::string counts_words() const;

private:
    void command(const KeyPress& key, double now_s);
    void answer(std::size_t choice, double now_s);
    void sound(PromptStyle style, bool key_first, double now_s);
    void choose_next();
    void follow(double now_s);
    void watch_time(double now_s);
    void turn_page(int columns, int rows);
    void say(std::string words, double now_s);
    [[nodiscard]] std::int64_t wall_ms() const;
    [[nodiscard]] NameItView view(double now_s) const;
    void fill_answer(NameItView& view) const;

    NameItConfig config_;
    PracticeSound& sound_;
    NameItSession session_;
    std::optional<PlannedSteps> planned_;
    std::string why_, next_why_;
    SessionSummary summary_;
    std::optional<HelpView> help_;
    int sounded_ = 0;               // the question whose sound has begun
    double own_sound_until_s_ = -1.0;
    SessionClock clock_;
    bool was_sounding_ = false, ending_ = false, over_ = false;
    std::string notice_;
    double notice_until_s_ = 0.0;
};

}  // namespace gripline
