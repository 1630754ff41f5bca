// The course of a practice: a step is asked, a strum is judged, the verdict is shown, and on it goes without touching a key.
// No screen, no sound and no clock of its own: its owner passes the time and the verdicts in.
#pragma once

#include <cstdint>
#include <optional>

#include "judge/verdict.h"
#include "practice/exercise.h"
#include "practice/guitar_tuning.h"
#include "practice/practice_attempts.h"
#include "practice/step_row.h"

namespace gripline {

/// The same instant by the player's clock and in the sound heard so far. The two may drift apart; neither goes back.
struct Moment {
    double now_s = 0.0;     ///< for how long things are shown
    double stream_s = 0.0;  ///< for which strums count
};

enum class PracticeState { nothing_to_ask, listening, right_shown, wrong_shown, unheard_shown, out_of_tune, paused };

/// How long things take. Chosen by reading the words aloud at an easy pace (judgement, 2026-11); no source.
struct PracticeTimes {
    double right_shown_s = 1.2;
    double wrong_shown_s = 2.8;          ///< with one fault
    double further_fault_s = 1.0;        ///< for each fault more that is told, up to two
    double unheard_shown_s = 2.0;
    double ring_s = 0.35;                ///< a strum that begins sooner after a verdict is the ring or the damping hand
    double own_sound_tail_s = 0.30;      ///< the tool's own sound, in the room after it ended
};

/// Verdicts of this session. Plain numbers, no score.
struct PracticeCounts {
    int right = 0;
    int wrong = 0;
    int unheard = 0;
};

class PracticeSession {
public:
    explicit PracticeSession(const PracticeTimes& times = {});

    /// Asks the first step of `exercise`. An empty one leaves nothing to ask. Counts go on. A pause stays.
    void set_exercise(Exercise exercise, StepOrder order, std::uint32_t seed, Moment moment);
    /// The owner chooses: after the step asked comes this one (of the exercise; said before set_exercise: it begins there). Holds once.
    void next_is(std::size_t step) noexcept { next_is_ = step; }
    /// Time goes on: what has been shown long enough gives way.
    void pass(Moment moment);
    /// Should a strum that began at `onset_s` (stream time) be judged? Not while paused, a right verdict is shown, something rings, or
    /// the tool itself sounded.
    [[nodiscard]] bool wants(double onset_s) const noexcept;
    /// A strum that was wanted has been judged. When the guitar turns out to be too far out of tune the verdict does not count, nor do the wrong
    /// ones just before it: the state is `out_of_tune` until a strum is in tune, or something is asked anew.
    /// strum_tuning_cents: of this strum alone, against concert pitch; nothing: the verdict's tuning.
    void hear(const Verdict& verdict, Moment moment, std::optional<double> strum_tuning_cents = {});

    /// Approach and target, asked together in time, have been judged. As hear(), but right takes both, in notes, bass and time.
    void hear_pair(const PairResult& pair, Moment moment);

    /// Asks the same step again, from now; the verdict shown goes.
    void repeat(Moment moment);
    /// Asks the next step.
    void skip(Moment moment);
    /// Asks the step before.
    void back(Moment moment);
    /// Pauses, or goes on by asking the same step again.
    void pause(Moment moment);
    /// The tool sounds the target itself until then (stream time): strums up to a tail after it are its own.
    void own_sound_until(double stream_s) noexcept;
    /// Another input, whose stream time has nothing to do with the one before: asks the same again.
    void new_stream(Moment moment);

    [[nodiscard]] PracticeState state() const noexcept { return state_; }
    [[nodiscard]] const Exercise& exercise() const noexcept { return exercise_; }
    /// The step asked (also while paused); nothing when there is nothing to ask.
    [[nodiscard]] const PracticeStep* asked() const;
    /// The step that comes after a right answer.
    [[nodiscard]] const PracticeStep* next() const;
    /// Place of the asked step in its round, from 0.
    [[nodiscard]] std::size_t place() const noexcept { return row_.place(); }
    /// Grows whenever the judge must be told anew what is asked.
    [[nodiscard]] std::uint64_t askings() const noexcept { return askings_; }
    /// The last verdict on the step asked, shown or not; nothing before its first strum.
    [[nodiscard]] const std::optional<Verdict>& verdict() const noexcept { return verdict_; }
    /// The same where approach and target are asked together; verdict() is then that of the worse one.
    [[nodiscard]] const std::optional<PairResult>& pair() const noexcept { return pair_; }
    [[nodiscard]] const PracticeCounts& counts() const noexcept { return counts_; }
    /// How far the guitar is out, + is sharp; nothing but while the state is `out_of_tune`.
    [[nodiscard]] std::optional<double> out_of_tune_cents() const noexcept;
    /// Wrong answers in a row on the step asked.
    [[nodiscard]] int wrong_in_a_row() const noexcept { return wrong_in_a_row_; }
    /// What the way of asking hides is to be seen now: always where it hides nothing, else after a right answer or a second miss.
    [[nodiscard]] bool grip_shown() const;
    /// The player asks to see what is hidden: shown from now on, and the step's answers count as helped.
    void show_grip();
    /// Steps left behind, answered or not.
    [[nodiscard]] int steps_done() const noexcept { return steps_done_; }
    /// The grip that the way of asking hides was shown, or sounded: the step's answers count as helped until another is asked.
    void helped() { attempts_.helped(); }
    /// The oldest attempt for the history that was not taken yet; when, who and with what are left to the owner. A wrong answer from a guitar that may
    /// be out of tune comes once that is known, and never when it was.
    [[nodiscard]] std::optional<Attempt> take_attempt() { return attempts_.take(); }
    /// Right answers are shown so many times as long, from the next on: a slower pace for hands that are cold.
    void slow_down(double times) noexcept { slower_ = times; }
    /// The session is over: what is in doubt counts.
    void close() { attempts_.stand(); }

private:
    void ask(Moment moment, bool anew = false);
    void forward();
    void show(PracticeState state, double for_s, Moment moment);
    void show_verdict(VerdictKind kind, long faults_told, Moment moment);
    void refuse();
    [[nodiscard]] bool refuses(const Verdict& verdict, double tuning_cents) noexcept;

    PracticeTimes times_;
    Exercise exercise_;
    StepRow row_{0, StepOrder::up, 0};
    PracticeState state_ = PracticeState::nothing_to_ask;
    std::optional<Verdict> verdict_;
    std::optional<PairResult> pair_;
    PracticeCounts counts_;
    int wrong_in_a_row_ = 0;
    std::optional<std::size_t> next_is_;
    int steps_done_ = 0;
    double slower_ = 1.0;
    bool told_grip_ = false;  // after misses, until another step is asked
    GuitarTuning tuning_;
    PracticeAttempts attempts_;
    int wrong_while_out_ = 0;  // counted since the guitar was last heard in tune
    std::uint64_t askings_ = 0;
    double shown_until_s_ = 0.0;
    double strums_from_s_ = 0.0;      // stream time
    double own_sound_from_s_ = 0.0;   // no strum before this is the player's
};

}  // namespace gripline
