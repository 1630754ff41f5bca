// Beats of a walk, and answers of a quiz, as attempts for the history. When, who and with what are left to whoever keeps them.
#pragma once

#include <vector>

#include "practice/attempt.h"
#include "practice/quiz_runner.h"
#include "practice/walk_along.h"

namespace gripline {

/// The beat whose chord a beat of a line trains: an approach trains reaching the chord that follows (after the last beat the first one, as choruses follow
/// each other), any other beat its own.
[[nodiscard]] const LineBeat& trained_by(const Line& line, std::size_t beat);

/// What a beat of a line asks, shown on the screen, without its tempo. Quality, key and degree are those of the chord that it trains.
[[nodiscard]] Attempt asked_on(const Line& line, std::size_t beat);

/// What came of a beat. tempo_bpm: counts a minute. A grip that is not the line's own (WalkBeat::asked) is kept as what the list says, without a chord.
[[nodiscard]] Attempt attempt_of_beat(const WalkBeat& beat, const BeatResult& result, double tempo_bpm);

/// The tries of a run as they come. Their ids are made from the run's, so that a run which goes on after a break makes no doubles. A question without a
/// strum is an attempt that was not heard. Questions whose chord is not named train nothing that could be counted, and make none.
class QuizAttempts {
public:
    /// run: 32 hex digits.
    explicit QuizAttempts(std::string run) : run_(std::move(run)) {}
    /// What is new since the last call.
    [[nodiscard]] std::vector<Attempt> follow(const QuizProgress& progress, const std::vector<QuizQuestion>& questions);

private:
    [[nodiscard]] Attempt attempt(const QuizQuestion& question, const QuizTry& one, std::size_t place, std::size_t try_index) const;
    void take(const QuizQuestion& question, const std::vector<QuizTry>& tries, std::size_t place, std::vector<Attempt>& out);

    std::string run_;
    std::size_t answers_ = 0, tries_ = 0;  // taken
};

}  // namespace gripline
