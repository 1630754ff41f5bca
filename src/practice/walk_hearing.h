// The ear of a walk: which strum belongs to which beat of which chorus, while choruses come one after another and the tool plays some of them itself.
#pragma once

#include <functional>
#include <vector>

#include "practice/tempo_steps.h"
#include "practice/walk_schedule.h"

namespace gripline {

/// A beat that has been judged.
struct HeardBeat {
    std::size_t passage = 0;  ///< into the schedule
    int chorus = 1;
    BeatResult result;        ///< its index is into beats() of the hearing
};

/// Music times become input times by adding `origin_s`: where second 0 of the music lies in the input's stream, for a strum made with what is heard.
/// It may move from call to call, as clocks drift, or when a lost device comes back: what is still to be heard moves along.
class WalkHearing {
public:
    explicit WalkHearing(const WalkScore& score, const JudgeConfig& judge = {}) : score_(score), along_({}, 1.0, judge) {}

    /// The passage's beats will be listened for. Passages in their order, each once; one that is not judged changes nothing.
    void expect(std::size_t index, const Passage& passage, double origin_s);
    /// Takes evidence. Strums in count-ins, rests, and choruses of the tool belong to no beat and are no fault.
    void consider(const dsp::StrumEvidence& evidence, const WalkSchedule& schedule, double origin_s);
    /// Sound was heard up to stream_s.
    void pass(double stream_s, double origin_s);
    /// The music ends at at_s, and what was strummed until then is still to come: beats that lie later, or less than half a count before it, count only
    /// when they are heard.
    void end_at(double at_s) noexcept { end_s_ = at_s; }
    /// It ended at at_s, and nothing more comes.
    void stop(double at_s, double origin_s);

    /// All beats judged so far, in order.
    [[nodiscard]] const std::vector<HeardBeat>& results() const noexcept { return results_; }
    /// Seconds of the music at which a beat lies.
    [[nodiscard]] double music_s(std::size_t beat) const { return music_s_[beat]; }
    /// The length of a count of the tempo that it was played at; its own may be a share of it.
    [[nodiscard]] double count_s(std::size_t beat) const { return 60.0 / of_beat(beat).tempo_bpm; }
    [[nodiscard]] const std::vector<WalkBeat>& beats() const noexcept { return along_.beats(); }
    [[nodiscard]] int strums_between() const noexcept { return along_.strums_between(); }
    /// The chorus as judged: beats of it that are not judged yet count as not right.
    [[nodiscard]] ChorusResult chorus(std::size_t passage) const;

private:
    struct Expected {
        std::size_t passage;
        int chorus;
        double start_s, tempo_bpm;     // of the music
        std::size_t first_beat, beats;  // into beats()
    };
    void move_to(double origin_s);
    void collect(double origin_s);
    [[nodiscard]] const Expected& of_beat(std::size_t beat) const;

    const WalkScore& score_;
    WalkAlong along_;
    std::vector<Expected> expected_;
    std::optional<double> origin_s_;  // with which the beats were placed in the stream
    std::vector<double> music_s_;     // of each beat
    std::vector<HeardBeat> results_;
    std::uint64_t passed_over_ = 0;  // a strum that belongs to no beat
    std::optional<double> end_s_;
    bool stopped_ = false;
};

}  // namespace gripline
