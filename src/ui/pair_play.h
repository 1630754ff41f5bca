// Approach and target asked in time: the clicks through the output, the counts on the screen, and the ear. No clock and no device of its own.
#pragma once

#include <optional>

#include "practice/into_target.h"
#include "ui/practice_sound.h"

namespace gripline {

class PairPlay {
public:
    explicit PairPlay(PracticeSound& sound) : sound_(sound) {}

    /// Counts in now. approach: with its target given. Without an output the counts are on the screen alone.
    void begin(const PracticeStep& approach, double tempo_bpm);
    /// Ends what sounds; nothing is judged.
    void end();
    [[nodiscard]] bool runs() const noexcept { return pair_.has_value(); }
    void consider(const dsp::StrumEvidence& evidence);
    /// Lets the clicks go on; often (every 10 ms or so). What came of it, once; it has ended then.
    std::optional<PairResult> listen();

    /// The count that is heard now, 0 the first; nothing before it and while nothing runs.
    [[nodiscard]] std::optional<int> count() const;
    [[nodiscard]] bool silent() const noexcept { return runs() && !clicks_; }

    enum class Player { rests, plays_right, plays_mistake };
    /// The built-in player plays approach and target on their counts, or rests; from now on.
    void player(Player how) noexcept { player_ = how; }

private:
    void play_along();

    PracticeSound& sound_;
    std::optional<PairInTime> pair_;
    PracticeStep approach_;
    bool clicks_ = false;
    Player player_ = Player::rests;
    int played_ = 0;  // of the two
};

}  // namespace gripline
