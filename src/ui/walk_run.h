// The walk screen at work: keys and strums in, music and pictures out. No terminal, no device and no clock of its own.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "ui/canvas.h"
#include "ui/help_screen.h"
#include "ui/terminal.h"
#include "ui/walk_facts.h"
#include "ui/walk_player.h"

namespace gripline {

/// A walk that is over, for whoever keeps or tells it. References last as long as the call.
struct WalkDone {
    const WalkScore& score;
    const WalkHearing& hearing;
    const WalkSchedule& schedule;
    const WalkSummary& summary;
    std::uint64_t gap_frames;   ///< silence for want of music
    std::uint64_t lost_frames;  ///< of the input
};

struct WalkRunConfig {
    WalkWishes wishes;
    TempoSteps steps{120.0, 0.0};
    bool landing = false;
    bool show_cautions = false;     ///< first start: cautions before anything sounds
    bool player_is_input = false;
    WalkPlayerHabits player;
    std::shared_ptr<const KnownGuitar> guitar{};  ///< that is played, from its set-up; not when the player is the input
    /// How bars of the line, or of its landing, lead back to their first grip when they are played over and over; without it they lead on as the line does.
    std::function<std::optional<LoopEnd>(BarRange, bool landing)> loop_end{};
    std::string notice;             ///< said at the start
    std::function<void(const WalkBeat&, const BeatResult&, double tempo_bpm)> judged{};  ///< called once for each beat, as soon as it is judged
    std::function<std::string(const WalkDone&)> done;  ///< called after each walk of which a beat was judged; what it returns is said
};

class WalkRun {
public:
    /// The scores of the whole line and of its landing have the same bars. `sound` must outlive the run.
    WalkRun(const WalkScore& whole, const WalkScore& landing, const WalkRunConfig& config, WalkSound& sound, double now_s);
    WalkRun(const WalkRun&) = delete;
    WalkRun& operator=(const WalkRun&) = delete;

    void press(const KeyPress& key, double now_s, int columns, int rows);
    /// Lets the music go on and takes what has been heard; often (every 10 ms or so). True when something other than the level changed.
    bool listen(double now_s);
    void draw(Canvas& canvas, double now_s) const;
    /// As the start key: begins when nothing sounds, else ends.
    void start_or_stop(double now_s);

    [[nodiscard]] bool over() const noexcept { return over_; }
    [[nodiscard]] WalkState state() const noexcept { return state_; }
    [[nodiscard]] bool cautions_read() const noexcept { return !config_.show_cautions; }
    [[nodiscard]] const WalkWishes& wishes() const noexcept { return config_.wishes; }
    [[nodiscard]] const TempoSteps& steps() const noexcept { return music_ ? music_->steps : config_.steps; }
    /// The count that sounds, and since when; nothing while no music runs.
    struct CountNow {
        std::size_t passage = 0;
        int count = 0;
        double since_s = 0.0;
    };
    [[nodiscard]] std::optional<CountNow> count_now() const;
    /// Of the walk in hand or the last one; nullptr before the first.
    [[nodiscard]] const WalkHearing* hearing() const noexcept { return hearing_ ? &*hearing_ : nullptr; }
    [[nodiscard]] const WalkMusic* music() const noexcept { return music_ ? &*music_ : nullptr; }
    [[nodiscard]] const WalkPlayer& player() const noexcept { return player_; }
    [[nodiscard]] std::string notice(double now_s) const { return now_s < notice_until_s_ ? notice_ : ""; }

private:
    [[nodiscard]] const WalkScore& score() const noexcept { return config_.landing ? landing_ : whole_; }
    void command(const KeyPress& key, double now_s);
    void change_tempo(double by_bpm, double now_s);
    void change_bars(int first_by, int last_by, double now_s);
    void change_landing(double now_s);
    void lead_back();
    void press_at_end(const KeyPress& key, double now_s, int columns, int rows);
    void turn_page(int columns, int rows);
    void start(double now_s);
    void end_music(double at_s, double now_s);
    void finish(double now_s);
    void play_on(double now_s);
    [[nodiscard]] bool hear(double now_s);
    void tell_judged();
    void say(std::string words, double now_s);
    [[nodiscard]] WalkFacts facts(double now_s) const;
    [[nodiscard]] std::string delay_words() const;

    WalkScore whole_, landing_;
    WalkRunConfig config_;
    WalkSound& sound_;
    WalkState state_ = WalkState::standing;
    std::optional<WalkMusic> music_;
    std::optional<WalkHearing> hearing_;
    std::optional<WalkSummary> summary_;
    WalkPlayer player_;
    std::size_t told_ = 0;               // beats that were handed to `judged`
    std::size_t expected_ = 0;           // passages that the hearing knows
    std::optional<double> origin_s_;     // of the music in the input, when it was last known
    double started_s_ = 0.0, ended_s_ = 0.0, ended_at_s_ = 0.0;  // clock; clock and music second of the end
    std::uint64_t gap_frames_ = 0;
    std::vector<float> block_;
    dsp::StrumEvidence evidence_;
    std::pair<std::size_t, int> shown_{0, -1};  // passage and count of the last picture
    std::string trouble_;                // as of the last look
    std::optional<HelpView> help_;
    int end_chorus_ = 0, end_scroll_ = 0;
    std::string notice_;
    double notice_until_s_ = 0.0;
    bool over_ = false;
};

}  // namespace gripline
