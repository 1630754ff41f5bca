// The quiz screen at work: keys and strums in, pictures and files out. No terminal, no device and no clock of its own.
#pragma once

#include <cstdint>
#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>

#include "judge/judge.h"
#include "practice/attempt_keeper.h"
#include "practice/quiz_runner.h"
#include "practice/sound_check.h"
#include "practice/walk_attempts.h"
#include "ui/practice_sound.h"
#include "ui/quiz_keeper.h"
#include "ui/quiz_view.h"
#include "ui/terminal.h"

namespace gripline {

struct QuizPlayConfig {
    QuizRunHead head;                         ///< of a new run; of a resumed one as its journal has it
    std::filesystem::path folder;             ///< of the run
    std::optional<QuizJournalRead> resumed;   ///< an interrupted run that goes on
    std::function<std::int64_t()> wall_ms;    ///< wall clock: milliseconds since 1970-01-01 00:00 UTC
    std::string notice;
    AttemptKeeper* keeper = nullptr;          ///< where attempts go, outlives the play; none: nothing is kept
    bool keep_player = false;                 ///< also what the built-in player plays
    QuizPace pace;
};

class QuizPlay {
public:
    /// `sound` must outlive it. The questions can be drawn (parse_quiz() has done so).
    QuizPlay(QuizPlayConfig config, PracticeSound& sound, double now_s);

    void press(const KeyPress& key, double now_s);
    /// Takes what has been heard, lets time pass, writes down what is new.
    void listen(double now_s);
    void draw(Canvas& canvas, double now_s) const;
    /// The program is asked to stop: what there is stays in the journal.
    [[nodiscard]] bool over() const noexcept { return over_; }
    [[nodiscard]] const QuizRunner& runner() const noexcept { return runner_; }
    /// Path of the result once it is written.
    [[nodiscard]] const std::string& result_path() const noexcept { return result_path_; }
    /// Why it could not be written, or the run could not begin.
    [[nodiscard]] const std::string& failure() const noexcept { return failure_; }
    [[nodiscard]] bool begun() const noexcept { return keeper_ != nullptr; }

private:
    enum class Page { check, quiz, ask_hand_in, done };

    void begin(double now_s);
    void check_sound(double now_s);
    void hear(const dsp::StrumEvidence& evidence, double now_s);
    void walk_on(double now_s);
    void ask_judge(double now_s);
    void begin_walk(const QuizQuestion& first);
    void lay_walk();
    /// A question by ear is still to come, or is asked now.
    [[nodiscard]] bool by_ear_to_come() const;
    [[nodiscard]] bool asks_by_ear() const;
    /// Why a quiz with questions by ear can't begin; empty when it can.
    [[nodiscard]] std::string deaf_words() const;
    void sound_for_ear(const PracticeStep& step, double now_s, bool again);
    void play(bool mistake);
    void try_output();
    void finish(double now_s);
    void write_down();
    [[nodiscard]] Moment moment(double now_s) const { return {now_s, sound_.input().stream_s}; }
    [[nodiscard]] QuizView view(double now_s) const;
    void fill_question(QuizView& view, double now_s) const;
    void fill_answer(QuizView& view) const;
    void fill_walk(QuizView& view, std::size_t place) const;
    [[nodiscard]] std::size_t place_now() const;
    [[nodiscard]] std::vector<PageLine> check_page() const;
    [[nodiscard]] std::vector<PageLine> done_page() const;

    QuizPlayConfig config_;
    PracticeSound& sound_;
    QuizRunner runner_;
    SoundCheck check_;
    Judge judge_;
    std::unique_ptr<WalkAlong> walk_;
    bool clicks_ = false, laid_ = false;  // of the walk: they sound; its beats lie where they are heard
    double own_sound_until_s_ = 0.0;      // stream time: a sound of the tool's in the sound check
    std::unique_ptr<QuizKeeper> keeper_;
    QuizAttempts attempts_;
    dsp::StrumEvidence evidence_;
    std::uint64_t told_ = 0;  // askings the judge knows of
    Page page_ = Page::check;
    bool over_ = false;
    double begun_s_ = 0.0;
    std::int64_t begun_ms_ = 0;
    std::uint64_t lost_before_ = 0;
    std::string notice_, failure_, result_path_, code_;
};

}  // namespace gripline
