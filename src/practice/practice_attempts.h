// What a practice makes of its verdicts for the history: which try it was, how long the answer took, which attempts must wait until it is known whether
// the guitar was in tune. No clock, no file.
#pragma once

#include <cstdint>
#include <deque>
#include <optional>
#include <string>
#include <vector>

#include "practice/into_target.h"

namespace gripline {

/// The degree of a note above the root of the scale that is walked: "b6"; empty when the scale does not hold it.
[[nodiscard]] std::string degree_in_scale(NoteName root, Family family, PitchClass note);

/// What came of an attempt, as the judge says it.
void take_verdict(const Verdict& verdict, Attempt& attempt);

/// The attempts of one session, in their order.
class PracticeAttempts {
public:
    /// A step is asked. anew: it is the first try at it; not when the same step is asked once more. stream_s: from then on it can be answered.
    void asked(bool anew, double stream_s);
    /// The same asking can be answered again, after a verdict was shown.
    void open(double stream_s) { open_from_s_ = stream_s; }
    /// The grip that the way of asking hides was shown, or sounded.
    void helped() { helped_ = true; }
    /// A verdict on `step`. in_doubt: it may be taken back yet, since the guitar may be out of tune.
    void heard(const PracticeStep& step, const Verdict& verdict, bool in_doubt);
    /// What came of approach and target, played in time: an attempt of each. approach: the step asked, with its target given.
    void heard_pair(const PracticeStep& approach, const PairResult& pair, bool in_doubt);
    /// Attempts in doubt count, or don't.
    void stand();
    void take_back();
    /// The oldest that counts and was not taken yet.
    [[nodiscard]] std::optional<Attempt> take();

private:
    void put(std::vector<Attempt> attempts, bool wrong, bool in_doubt);

    int try_number_ = 1;
    int tries_in_doubt_ = 0;
    bool helped_ = false;
    std::optional<double> open_from_s_;        // nothing: the strum came before the words were read to their end
    std::optional<MidiNote> bass_, bass_before_;  // of the steps asked
    std::deque<Attempt> ready_;
    std::vector<Attempt> in_doubt_;
};

}  // namespace gripline
