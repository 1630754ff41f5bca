// Walking a line in time: each strum goes to the beat it was meant for, and each beat gets its verdict and how early or late it came.
// No clock, no screen and no sound of its own: its owner passes in what was heard, live or from a recording.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "dsp/strum_evidence.h"
#include "judge/judge.h"
#include "practice/attempt.h"

namespace gripline {

/// A beat to be played.
struct WalkBeat {
    int bar = 1;          ///< as played, from 1
    int beat = 1;         ///< count in the bar, from 1
    int written_bar = 0;  ///< index into the chart's bars: a bar that is repeated keeps it
    std::string chord;    ///< the chart's chord there, as written
    double at_s = 0.0;    ///< stream time
    Target target;
    Attempt asked{};      ///< as the history keeps it (walk_attempts.h)
    double share = 1.0;   ///< the length of its count, in counts of the tempo: 0.5 in a bar of 6/8 among quarters
};

/// What became of a beat.
struct BeatResult {
    std::size_t index = 0;          ///< into the beats
    Verdict verdict;                ///< unheard when no strum came, or none that could be heard
    bool any_strum = false;         ///< whether verdict's times mean anything
    std::optional<double> off_ms;   ///< first string against the beat: early is negative; nothing when unheard
};

/// A strum belongs to the nearest beat, at most half a count away. Of several the first counts, unless it was unheard (a knock, a
/// dead strum): then the next one has its chance.
class WalkAlong {
public:
    /// Beats in order of at_s, each as long as its share of count_s, the length of a count (0.2 to 1.5 s at 300 to 40 a minute).
    WalkAlong(std::vector<WalkBeat> beats, double count_s, const JudgeConfig& judge = {});

    /// More beats, later than all so far, with counts of their own length.
    void extend(std::vector<WalkBeat> beats, double count_s);
    /// All beats by_s later in the stream: its seconds have moved against the music's (a device was lost, two clocks drift apart).
    void shift(double by_s);
    /// The next evidence, in the order of the sound. A strum that is met in its middle is passed over.
    void consider(const dsp::StrumEvidence& evidence);
    /// Sound was heard up to stream_s: beats long past without a strum are unheard.
    void pass(double stream_s);
    /// No more sound comes after stream_s: beats whose time had not run out by then are never given, unless their strum is settled.
    void finish(double stream_s);
    /// The next beat, in order, once it is settled; each is given once.
    std::optional<BeatResult> next();
    /// True when every beat has been given.
    [[nodiscard]] bool done() const noexcept { return given_ == beats_.size(); }

    [[nodiscard]] const std::vector<WalkBeat>& beats() const noexcept { return beats_; }
    /// Those given so far.
    [[nodiscard]] std::size_t given() const noexcept { return given_; }
    /// Strums heard that no beat wanted: between two beats, or a second one on the same beat.
    [[nodiscard]] int strums_between() const noexcept { return strums_between_; }

private:
    [[nodiscard]] std::optional<std::size_t> beat_at(double onset_s) const;
    void begin(const dsp::StrumEvidence& evidence);

    std::vector<WalkBeat> beats_;
    std::vector<double> half_s_;  // of its count, one a beat
    Judge judge_;
    std::vector<BeatResult> results_;     // one a beat
    std::vector<bool> settled_;           // by a strum that was heard
    std::optional<std::size_t> in_hand_;  // the beat whose strum is being judged
    std::uint64_t strum_ = 0;
    std::size_t given_ = 0;
    double past_s_ = -1e300;              // no strum will begin before this
    int strums_between_ = 0;
};

}  // namespace gripline
