// What the tool sounds during a walk: count-ins, clicks and the line itself, planned passage by passage as the music goes on. No device of its own.
#pragma once

#include <functional>
#include <optional>
#include <span>
#include <string>

#include "audio/accompaniment.h"
#include "practice/tempo_steps.h"
#include "practice/walk_schedule.h"

namespace gripline {

/// Which counts click. `accented`: all, those of ScoreBar::accents louder and higher.
enum class ClickMode { accented, accents_alone, plain, off };
/// "2 and 4 accented", "1 alone", "every count alike", "off": of these bars; where they differ, "each bar's strong counts alone".
[[nodiscard]] std::string click_words(ClickMode mode, const WalkScore& score, BarRange bars);
/// What the option takes: "accented", "accents", "plain", "off".
[[nodiscard]] Result<ClickMode> parse_click(const std::string& word);

/// Who plays the line: the player, by turns with the tool (which begins), or the tool alone.
enum class LinePlayer { player, by_turns, tool };
[[nodiscard]] const char* line_player_words(LinePlayer who);

struct WalkWishes {
    BarRange bars;
    int count_in_bars = 1;    ///< 1 to 4
    ClickMode click = ClickMode::accented;
    LinePlayer line = LinePlayer::player;
    int choruses = 0;         ///< 0: without end
};

class WalkMusic {
public:
    /// `score` must outlive the music.
    WalkMusic(const WalkScore& score, int rate_hz, const WalkWishes& wishes, const TempoSteps& steps);

    /// Begins anew at music second 0 with a count-in, at bar `from` of the wished ones. `listened`: the player can be heard.
    void start(int from_bar, bool listened);
    /// Renders the next frames, planning what they need. Silence after the end.
    /// `judged` is asked, once for each chorus that tempo steps hang on, how it was.
    void render(std::span<float> frames, const std::function<ChorusResult(std::size_t passage)>& judged);

    /// May be changed at any time; clicks change with the next frames rendered, the rest with the next chorus.
    WalkWishes wishes;
    TempoSteps steps;

    [[nodiscard]] const WalkSchedule& schedule() const noexcept { return schedule_; }
    [[nodiscard]] bool finished_at(double music_s) const noexcept { return all_planned_ && music_s >= schedule_.end_s(); }
    /// "Passed: 105 a minute next.", of the last chorus that tempo steps hung on; and the index of the rest in which to say it.
    [[nodiscard]] const std::string& step_words() const noexcept { return step_words_; }

private:
    void plan_passage(const std::function<ChorusResult(std::size_t)>& judged);
    void plan_count();
    void add_chorus(int from_bar);
    void add_counts(PassageKind kind, double least_s, int bars);
    void decide(const ChorusResult& result);

    const WalkScore& score_;
    int rate_hz_;
    Accompaniment band_;
    WalkSchedule schedule_;
    std::size_t passage_ = 0;  // next count to be planned
    int count_ = 0;
    int chorus_ = 0;           // last one added
    int from_bar_ = 1;
    bool tools_turn_ = true;   // of call and answer, which the tool begins whenever it is chosen
    bool listened_ = false, all_planned_ = false;
    double last_tempo_bpm_ = 0.0;
    std::string step_words_;
};

}  // namespace gripline
