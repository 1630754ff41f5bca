#include "practice/walk_hearing.h"

#include <algorithm>
#include <cmath>

namespace gripline {

namespace {

/// A move of the streams against each other that is worth following; less is within what an onset is known to.
constexpr double kMoved_s = 0.0005;

}  // namespace

void WalkHearing::move_to(double origin_s) {
    if (!origin_s_) origin_s_ = origin_s;
    if (std::abs(origin_s - *origin_s_) < kMoved_s) return;
    along_.shift(origin_s - *origin_s_);
    origin_s_ = origin_s;
}

void WalkHearing::expect(std::size_t index, const Passage& passage, double origin_s) {
    if (passage.kind != PassageKind::chorus || !passage.judged || stopped_) return;
    move_to(origin_s);
    auto beats = timed_beats(score_, passage.bars, passage.start_s, passage.count_s());
    expected_.push_back({index, passage.chorus, passage.start_s, passage.tempo_bpm, music_s_.size(), beats.size()});
    for (WalkBeat& beat : beats) {
        music_s_.push_back(beat.at_s);
        beat.at_s += *origin_s_;
    }
    along_.extend(std::move(beats), passage.count_s());
}

const WalkHearing::Expected& WalkHearing::of_beat(std::size_t beat) const {
    const auto after = std::upper_bound(expected_.begin(), expected_.end(), beat, [](std::size_t at, const Expected& e) { return at < e.first_beat; });
    return *(after - 1);
}

void WalkHearing::consider(const dsp::StrumEvidence& evidence, const WalkSchedule& schedule, double origin_s) {
    move_to(origin_s);
    if (evidence.step == 0) {
        // A strum just before a passage begins is meant for its first count.
        const double music_s = evidence.onset_s - origin_s;
        auto place = schedule.place(std::max(music_s, 0.0));
        if (place && place->share > 0.5) {
            const Passage& passage = schedule.passages()[place->passage];
            if (place->count == passage.counts - 1) place = schedule.place(passage.end_s());
        }
        const bool wanted = place && schedule.passages()[place->passage].judged;
        passed_over_ = wanted ? 0 : evidence.strum;
    }
    if (evidence.strum == passed_over_) along_.pass(evidence.heard_s);
    else along_.consider(evidence);
    collect(origin_s);
}

void WalkHearing::pass(double stream_s, double origin_s) {
    move_to(origin_s);
    along_.pass(stream_s);
    collect(origin_s);
}

void WalkHearing::stop(double at_s, double origin_s) {
    if (stopped_) return;
    move_to(origin_s);
    end_at(at_s);
    along_.finish(at_s + origin_s);
    collect(origin_s);
    stopped_ = true;
}

void WalkHearing::collect(double origin_s) {
    if (stopped_) return;
    while (auto result = along_.next()) {
        const Expected& expected = of_beat(result->index);
        if (end_s_ && result->verdict.kind == VerdictKind::unheard && music_s_[result->index] > *end_s_ - count_s(result->index) * beats()[result->index].share / 2.0) continue;
        if (result->off_ms) result->off_ms = 1000.0 * (result->verdict.onset_s - origin_s - music_s_[result->index]);
        results_.push_back({expected.passage, expected.chorus, std::move(*result)});
    }
}

ChorusResult WalkHearing::chorus(std::size_t passage) const {
    const auto found = std::find_if(expected_.begin(), expected_.end(), [&](const Expected& e) { return e.passage == passage; });
    if (found == expected_.end()) return {};
    std::vector<BeatResult> beats;
    for (const HeardBeat& each : results_)
        if (each.passage == passage) beats.push_back(each.result);
    ChorusResult out = chorus_result(beats, found->tempo_bpm);
    out.beats = static_cast<int>(found->beats);
    return out;
}

}  // namespace gripline
