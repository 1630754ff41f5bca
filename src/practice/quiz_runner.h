// The course of a quiz: a question is asked, its clock runs, strums are judged, the answer is kept, and on it goes without touching a key.
// No screen, no sound, no file and no clock of its own: its owner passes the time and the verdicts in, and writes down what grows.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "practice/practice_session.h"
#include "practice/quiz_result.h"
#include "practice/walk_along.h"

namespace gripline {

enum class QuizState {
    ready,          ///< before the start
    counting_down,  ///< before the first question, and after each break
    asking,         ///< the clock runs
    walking,        ///< a line in time; the clock runs
    answer_shown,
    paused,
    input_lost,     ///< the clock stands still until the input is back
    over,
};

/// How long things take (judgement, by reading the words aloud).
struct QuizPace {
    double countdown_s = 3.0;
    double answer_shown_s = 1.0;
    double miss_shown_s = 4.0;       ///< with the right grip, where the quiz shows it
    double verdict_wait_s = 0.6;     ///< after the time is over, for the verdict on a strum that came in time (95 % come within 264 ms)
    double ring_s = 0.35;            ///< as PracticeTimes
    double own_sound_tail_s = 0.30;  ///< as PracticeTimes
    int count_in = 4;                ///< counts before a walked part
    double sound_kept_s = 88.0;      ///< of an answer's sound so much is kept, the last: with the strum's ring less than SoundTap::kLongestCut_s
};

/// How far a run has come; what a journal brings back.
struct QuizProgress {
    std::vector<QuizAnswer> answers;  ///< done
    std::vector<QuizTry> tries;       ///< on the question that was open
    double question_used_s = 0.0;     ///< of its time
    double used_s = 0.0;              ///< of the quiz's time
};

class QuizRunner {
public:
    /// questions: of draw_questions(); at least one.
    QuizRunner(Quiz quiz, std::vector<QuizQuestion> questions, QuizProgress so_far = {}, const QuizPace& pace = {});

    /// Counts down, then asks. Only when `ready`.
    void start(Moment moment);
    /// Time goes on.
    void pass(Moment moment);
    /// Should a strum that began at `onset_s` (stream time) be judged?
    [[nodiscard]] bool wants(double onset_s) const noexcept;
    /// A strum that was wanted has been judged.
    void hear(const Verdict& verdict, Moment moment);
    /// The next beat of a walked part has been settled.
    void hear_beat(const BeatResult& beat, Moment moment);
    /// The input is there, or is lost: the clock stops, and goes on after a count-down.
    void set_input(bool there, Moment moment);
    /// Pauses, or goes on after a count-down. False when the quiz does not allow it.
    bool pause(Moment moment);
    /// The tool sounds the question for so long: what is heard meanwhile is not the student's. Its clock stands for the first time, and runs when the
    /// student wants to hear it again.
    void sounding(double for_s, Moment moment, bool again = false);
    /// The clicks of a walked part are heard there: its first beat lies at that stream time. Only while `walking`, before the first beat.
    void lay_first_beat(double stream_s) noexcept;
    /// Ends the quiz as it stands.
    void hand_in();

    [[nodiscard]] QuizState state() const noexcept { return state_; }
    [[nodiscard]] const Quiz& quiz() const noexcept { return quiz_; }
    [[nodiscard]] const std::vector<QuizQuestion>& questions() const noexcept { return questions_; }
    /// Place of the question that is open or comes next, from 0; the number of questions when there is none.
    [[nodiscard]] std::size_t place() const noexcept { return progress_.answers.size() - (state_ == QuizState::answer_shown ? 1 : 0); }
    /// The question that is open, shown or comes next; nullptr when the quiz is over.
    [[nodiscard]] const QuizQuestion* question() const noexcept;
    /// Grows whenever the judge must be told anew what is asked.
    [[nodiscard]] std::uint64_t askings() const noexcept { return askings_; }
    [[nodiscard]] const QuizProgress& progress() const noexcept { return progress_; }
    /// Left of the question's time, of the quiz's (nullopt: no limit), of the count-down or the words shown. Never below 0.
    [[nodiscard]] double question_left_s() const noexcept;
    [[nodiscard]] std::optional<double> quiz_left_s() const noexcept;
    [[nodiscard]] double shown_left_s(Moment moment) const noexcept;
    /// Tries on the open question that were wrong.
    [[nodiscard]] int misses() const noexcept;
    /// Stream time at which the open question was asked, or the walked part's first beat lies.
    [[nodiscard]] double asked_stream_s() const noexcept { return asked_stream_s_; }
    /// Place of the question that was asked then: in a walked part the one it began with, or went on with.
    [[nodiscard]] std::size_t asked_place() const noexcept { return asked_place_; }
    /// Stream time at which the sound of an answer begins; a try's sound_at_s counts from there. Of answers that came since the last asking.
    [[nodiscard]] double sound_from_s(std::size_t answer) const;
    /// The beats of a walked part from the open question on, in stream time. Only while `walking`.
    [[nodiscard]] std::vector<WalkBeat> walk_beats() const;
    [[nodiscard]] QuizEnding ending() const noexcept { return ending_; }

private:
    void ask(Moment moment);
    void count_down(Moment moment);
    void finish_question(QuizOutcome outcome, Moment moment);
    void next(Moment moment);
    void end(QuizEnding ending);
    void run_clock(Moment moment);
    void close_when_over(Moment moment);
    [[nodiscard]] bool clock_runs() const noexcept { return state_ == QuizState::asking || state_ == QuizState::walking; }

    Quiz quiz_;
    std::vector<QuizQuestion> questions_;
    QuizProgress progress_;
    QuizPace pace_;
    QuizState state_ = QuizState::ready;
    QuizEnding ending_ = QuizEnding::finished;
    std::uint64_t askings_ = 0;
    std::size_t asked_place_ = 0;
    double clock_s_ = 0.0;            // now_s up to which the clock has been run
    double shown_until_s_ = 0.0;      // now_s
    double asked_stream_s_ = 0.0;
    double sound_from_s_ = 0.0;       // of the last answer that was no beat
    double asked_used_s_ = 0.0;       // question_used_s at asked_stream_s_
    double strums_from_s_ = 0.0;      // stream time
    double last_stream_s_ = 0.0;      // stream time of the last pass()
    std::optional<double> closed_s_;  // stream time at which the question's time was over
    double closed_until_s_ = 0.0;     // now_s
};

}  // namespace gripline
