// The practice screen at work: keys and strums in, pictures out. No terminal, no device and no clock of its own.
#pragma once

#include <array>
#include <cstdint>
#include <functional>
#include <optional>
#include <string>

#include "fretboard/neck.h"
#include "judge/judge.h"
#include "practice/attempt_keeper.h"
#include "practice/course.h"
#include "practice/muted_gestures.h"
#include "practice/planned_steps.h"
#include "practice/practice_session.h"
#include "practice/session_summary.h"
#include "practice/tuner.h"
#include "ui/canvas.h"
#include "ui/help_screen.h"
#include "ui/pair_play.h"
#include "ui/practice_keys.h"
#include "ui/practice_plan.h"
#include "ui/practice_sound.h"
#include "ui/progress_app.h"
#include "ui/session_clock.h"
#include "ui/terminal.h"

namespace gripline {

struct PracticeRunConfig {
    Course course;
    Neck neck;
    double a4_hz = 440.0;
    bool show_cautions = false;  ///< first start: cautions before the first asking
    std::string notice;          ///< said at the start
    std::uint32_t seed = 1;      ///< of shuffles and of the player's mistakes
    PracticeTimes times;
    /// What the progress page is made from; none: the page says that nothing is kept here.
    std::function<Result<KeptProgress>()> progress;
    AttemptKeeper* keeper = nullptr;  ///< where attempts go, outlives the run; none: nothing is kept
    PracticePlan plan;                ///< how the session is led
    bool keep_player = false;         ///< also what the built-in player plays
    std::shared_ptr<const KnownGuitar> guitar{};  ///< that is played, from its set-up; not when the built-in player is the input
};

class PracticeRun {
public:
    /// `sound` must outlive the run.
    PracticeRun(const PracticeRunConfig& config, PracticeSound& sound, double now_s);

    /// A key was pressed. `columns` and `rows` are those of the display (they make the pages of the help).
    void press(const KeyPress& key, double now_s, int columns, int rows);
    /// Takes what has been heard and lets time pass. True when something other than the level changed.
    bool listen(double now_s);
    /// Draws the present state.
    void draw(Canvas& canvas, double now_s) const;

    [[nodiscard]] bool over() const noexcept { return over_; }
    [[nodiscard]] bool cautions_read() const noexcept { return !config_.show_cautions; }
    [[nodiscard]] const Course& course() const noexcept { return config_.course; }
    /// How it went so far, in five lines.
    [[nodiscard]] std::array<std::string, 5> summary(double now_s) const;
    [[nodiscard]] const PracticeSession& session() const noexcept { return session_; }
    /// The end: what was in doubt goes to the keeper.
    void close();
    /// The answer to the last key, until it has been read.
    [[nodiscard]] std::string notice(double now_s) const;

private:
    enum class Page { practice, help, tuner, progress };

    void command(const KeyPress& key, double now_s);
    void obey(PracticeCommand command, double now_s);
    void open_page(Page page, double now_s);
    void close_page(double now_s);
    void turn_page(int columns, int rows, double now_s);
    void press_in_tuner(const KeyPress& key, double now_s);
    void open_progress(double now_s);
    void press_in_progress(const KeyPress& key, double now_s);
    void play_open_string();
    [[nodiscard]] bool tune();
    /// A strum that was judged, and what its tuning says.
    struct HeardStrum {
        Verdict verdict;
        std::optional<double> alone_cents;  // of this strum, on the circle of a semitone
        double remembered_cents = 0.0;      // of older strums as well
    };
    void hear(dsp::StrumEvidence& evidence, double now_s);
    void answer(const HeardStrum& heard, double now_s);
    void answer_pair(const PairResult& result, double now_s);
    void take_muted();
    [[nodiscard]] bool may_be_muted(double at_s) const;
    void follow_gestures(double now_s);
    void ask_by_gesture(int strums, double now_s);
    void forget_gestures();
    void keep_attempts();
    void change(const Course& course, double now_s);
    void begin(double now_s);
    void begin_plan(double now_s);
    [[nodiscard]] bool begin_warm_up(double now_s);
    void end_warm_up();
    [[nodiscard]] Result<Exercise> warm_up_pool() const;
    void choose_next();
    void leave_plan();
    void follow_asking(double now_s);
    void watch_time(double now_s);
    void sound_answer(double now_s);
    [[nodiscard]] std::int64_t wall_ms() const;
    void play(bool mistake, double now_s);
    [[nodiscard]] bool play_pair(double now_s);
    void change_tempo(double by_bpm, double now_s);
    void sound_target(double now_s, PromptStyle style = PromptStyle::together, bool key_first = false);
    void change_input(double now_s);
    void say(std::string words, double now_s);
    void ask_judge();
    void draw_tuner_page(Canvas& canvas) const;
    [[nodiscard]] Moment moment(double now_s) const { return {now_s, sound_.input().stream_s}; }

    PracticeRunConfig config_;
    PracticeSound& sound_;
    PracticeSession session_;
    Judge judge_;
    dsp::StrumEvidence evidence_;
    std::uint64_t told_ = 0;  // askings the judge knows of
    Page page_ = Page::practice;
    HelpView help_;
    Tuner tuner_;
    std::optional<ProgressRun> progress_;
    std::optional<PlannedSteps> planned_;
    std::string why_, next_why_;   // the step asked, and the one chosen to come next
    bool next_chosen_ = false;
    int steps_seen_ = 0;
    int warm_up_ = 0;              // steps of the warm-up that is under way; 0: none is
    int warmed_up_ = 0;            // steps done when it was over
    std::optional<std::pair<NoteName, Family>> key_told_;  // by a cadence, last
    std::uint64_t sounded_ = 0;    // the asking whose prompt has sounded
    SessionSummary summary_;
    SessionClock session_clock_;
    PairPlay pair_play_;           // approach and target in time
    std::uint64_t pair_asking_ = 0;
    std::optional<int> pair_count_;  // shown last
    bool delay_told_ = false;      // that it is not measured
    bool ending_ = false;          // the summary is looked at, then it is over
    int played_string_ = 0;        // by the built-in player, last; 0: none
    bool strums_alone_ = false;    // the tuning that older strums tell is not to be trusted now
    bool paused_for_page_ = false;
    bool over_ = false;
    MutedGestures gestures_;
    double decided_s_ = 0.0;             // what began before is known as muted or not
    std::vector<double> undecided_;      // starts of strums after that
    std::optional<int> gesture_;         // made, not yet answered: muted strums
    std::optional<HeardStrum> held_;     // not right, and perhaps no answer but part of a gesture
    std::optional<PairResult> held_pair_;
    std::string nothing_why_;
    std::string notice_;
    double notice_until_s_ = 0.0;
    double own_sound_until_s_ = 0.0;
};

}  // namespace gripline
