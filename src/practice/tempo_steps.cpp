#include "practice/tempo_steps.h"

#include <algorithm>
#include <cmath>

namespace gripline {

double in_time_ms(double tempo_bpm) noexcept { return std::min(kInTime_ms, kInTimeShare * 60000.0 / tempo_bpm); }

ChorusResult chorus_result(std::span<const BeatResult> beats, double tempo_bpm) noexcept {
    ChorusResult out;
    for (const BeatResult& beat : beats) {
        ++out.beats;
        if (beat.verdict.kind == VerdictKind::right) ++out.right;
        if (!beat.off_ms) continue;
        ++out.heard;
        if (std::abs(*beat.off_ms) <= in_time_ms(tempo_bpm)) ++out.in_time;
    }
    return out;
}

TempoSteps::TempoSteps(double start_bpm, double step_bpm, double most_bpm) : tempo_bpm_(start_bpm), step_bpm_(step_bpm), most_bpm_(most_bpm) { set_tempo_bpm(start_bpm); }

void TempoSteps::set_tempo_bpm(double tempo_bpm) {
    tempo_bpm_ = std::isfinite(tempo_bpm) ? std::clamp(tempo_bpm, kLeastTempo_bpm, kMostTempo_bpm) : kLeastTempo_bpm;
    failures_ = 0;
}

TempoStep TempoSteps::take(const ChorusResult& chorus) {
    const double before_bpm = tempo_bpm_;
    if (chorus.passes()) set_tempo_bpm(std::max(tempo_bpm_, std::min(tempo_bpm_ + step_bpm_, most_bpm_)));
    else if (++failures_ >= kFailuresToSlow) set_tempo_bpm(tempo_bpm_ - step_bpm_);
    return tempo_bpm_ > before_bpm ? TempoStep::up : tempo_bpm_ < before_bpm ? TempoStep::down : TempoStep::same;
}

}  // namespace gripline
