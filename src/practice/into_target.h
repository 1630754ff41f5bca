// Into the target: a target and a side are given, the player plays the approach chord and then the target, in time.
// No clock, no screen and no sound here: the owner passes in what was heard, and where the counts lie in it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "practice/course.h"
#include "practice/verdict_words.h"
#include "practice/walk_along.h"

namespace gripline {

/// The approaches from that side into the course's chords: the target's grip slid one fret (common practice, no source). PracticeStep::given is the target. Only those
/// whose both grips the neck holds; none where the stage is single notes.
[[nodiscard]] std::vector<PracticeStep> approaches_into(const Course& course, From from, const Neck& neck, double a4_hz);

/// Each chord of the course from below and from above, targets rising. An error when the neck holds none, or the stage is single notes.
[[nodiscard]] Result<Exercise> make_into_target(const Course& course, const Neck& neck, double a4_hz);

/// Counts before the approach: a bar of count-in and three more, so that the approach takes the last count of its bar (common practice, no source).
inline constexpr int kApproachCount = 7;
inline constexpr int kTargetCount = kApproachCount + 1;

/// What came of an asking. The verdicts are about notes and bass alone.
struct PairResult {
    BeatResult approach, target;
    double tempo_bpm = 100.0;
};

/// A beat's verdict with its time: a right one further off the beat than in_time_ms() is wrong, without a fault.
[[nodiscard]] Verdict verdict_in_time(const BeatResult& beat, double tempo_bpm);
/// Right: both, in notes, bass and time. Unheard: neither was heard. Else wrong.
[[nodiscard]] VerdictKind kind_of(const PairResult& pair);
/// "Right and in time: approach 12 ms early, target on the beat."; what was wrong with each where something was. approach: the step asked.
[[nodiscard]] VerdictWords pair_words(const PairResult& pair, const PracticeStep& approach);

/// The ear of one asking: two beats on a count that runs on.
class PairInTime {
public:
    /// approach: with its target as PracticeStep::given. first_count_s: stream time of the first count, as far as is known. tempo_bpm: kLeastTempo_bpm to kMostTempo_bpm.
    PairInTime(const PracticeStep& approach, double tempo_bpm, double first_count_s);

    /// The first count lies there in the stream, as is known now.
    void lay(double first_count_s);
    void consider(const dsp::StrumEvidence& evidence) { along_.consider(evidence); }
    /// Sound was heard up to stream_s. What came of it, once, when both beats are settled.
    std::optional<PairResult> pass(double stream_s);

    /// Which count runs at a second of the stream: 0 the first of the count-in; negative before it.
    [[nodiscard]] int count_at(double stream_s) const noexcept;
    [[nodiscard]] double count_s() const noexcept { return 60.0 / tempo_bpm_; }
    /// Stream time of a count.
    [[nodiscard]] double at_s(int count) const noexcept { return first_count_s_ + count * count_s(); }

private:
    double tempo_bpm_, first_count_s_;
    WalkAlong along_;
    std::optional<BeatResult> approach_;
};

}  // namespace gripline
