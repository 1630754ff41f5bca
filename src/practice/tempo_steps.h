// Tempo steps: faster when a chorus passes, slower when it fails twice. Pure.
#pragma once

#include <optional>
#include <span>

#include "chart/chart.h"
#include "practice/walk_along.h"

namespace gripline {

/// What a chorus must be to pass, as shares of its beats and of its heard beats (our choice: one slip in ten is forgiven).
inline constexpr double kNotesToPass = 0.9, kInTimeToPass = 0.9;
/// In time is this near to the click, or kInTimeShare of a count where that is less: a listener hears 30 to 50 ms against a steady beat (common practice,
/// no source), and a share of a count keeps the limit within the feel of fast tempos (our choice).
inline constexpr double kInTime_ms = 60.0, kInTimeShare = 0.15;
inline constexpr int kFailuresToSlow = 2;

/// How far from the click still counts as in time at this tempo.
[[nodiscard]] double in_time_ms(double tempo_bpm) noexcept;

/// One chorus, judged as a whole.
struct ChorusResult {
    int beats = 0, right = 0;
    int heard = 0, in_time = 0;
    [[nodiscard]] bool notes_pass() const noexcept { return beats > 0 && right >= kNotesToPass * beats; }
    [[nodiscard]] bool time_passes() const noexcept { return heard > 0 && in_time >= kInTimeToPass * heard; }
    [[nodiscard]] bool passes() const noexcept { return notes_pass() && time_passes(); }
};
[[nodiscard]] ChorusResult chorus_result(std::span<const BeatResult> beats, double tempo_bpm) noexcept;

enum class TempoStep { up, same, down };

class TempoSteps {
public:
    /// step_bpm: 0 keeps the tempo for ever. Steps end at most_bpm; all tempos are kept within kLeastTempo_bpm and kMostTempo_bpm (chart.h).
    TempoSteps(double start_bpm, double step_bpm, double most_bpm = kMostTempo_bpm);
    /// A chorus has been played at tempo_bpm(). What the tempo does next.
    TempoStep take(const ChorusResult& chorus);
    /// The player sets the tempo by hand; failures are forgotten.
    void set_tempo_bpm(double tempo_bpm);
    [[nodiscard]] double tempo_bpm() const noexcept { return tempo_bpm_; }
    [[nodiscard]] double most_bpm() const noexcept { return most_bpm_; }
    [[nodiscard]] double step_bpm() const noexcept { return step_bpm_; }
    void set_step_bpm(double step_bpm) noexcept { step_bpm_ = step_bpm; }

private:
    double tempo_bpm_, step_bpm_, most_bpm_;
    int failures_ = 0;
};

}  // namespace gripline
