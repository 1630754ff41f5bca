// Before a quiz: is the input fit to be judged by? Silence first, then three strums. Pure: numbers in, words out.
#pragma once

#include <deque>
#include <optional>
#include <string>

#include "practice/guitar_tuning.h"

namespace gripline {

/// A strum must lie so far above the room, or the judge has not been measured there: the takes behind the figures of DEVELOPERS.md (2026-11) had
/// their noise 22 to 60 dB below the strums.
inline constexpr double kLeastAboveNoise_db = 20.0;
/// Softer strums than this are refused, dB below full scale: the meter's soft strum lies near -50 (widgets.h).
inline constexpr double kSoftestStrum_db = -50.0;

/// What the input says of itself now.
struct InputCondition {
    double level_db = -120.0;
    bool there = true;
    bool clipping = false;
    bool hum = false;
    bool silent = false;  ///< no signal at all: the quietest of rooms, until a strum should be heard
};

enum class CheckStage { still, strums, good };

class SoundCheck {
public:
    explicit SoundCheck(double a4_hz = 440.0) : a4_hz_(a4_hz) {}

    /// Time goes on; the first two still seconds give the room's noise, and stiller ones after them a better one.
    void pass(double now_s, const InputCondition& input);
    /// A strum of the student's: its level, and its own tuning against A4 = 440 Hz where it has one.
    void strum(double level_db, std::optional<double> tuning_cents);
    void begin_anew(double now_s);

    [[nodiscard]] CheckStage stage() const noexcept { return stage_; }
    /// What to do now: "Be still for a moment." "Strum any chord: 1 of 3."
    [[nodiscard]] std::string words() const;
    /// What keeps the quiz from starting, and what to do; empty when nothing does.
    [[nodiscard]] const std::string& trouble() const noexcept { return trouble_; }
    [[nodiscard]] double noise_db() const noexcept { return noise_db_; }
    /// The loudest of the three strums.
    [[nodiscard]] double level_db() const noexcept { return loudest_db_; }
    /// Median of the three; 0 when they don't tell.
    [[nodiscard]] double tuning_cents() const noexcept { return tuning_cents_; }

private:
    /// The input's level at an instant.
    struct Level {
        double at_s, level_db;
    };
    void note_level(double now_s, double level_db);
    [[nodiscard]] double room_db() const;
    [[nodiscard]] bool still(double now_s) const;

    double a4_hz_;
    CheckStage stage_ = CheckStage::still;
    std::string trouble_;
    double begun_s_ = -1.0, still_from_s_ = -1.0;
    std::deque<Level> levels_;  // of the last kStill_s
    double noise_db_ = -120.0, loudest_db_ = -120.0, tuning_cents_ = 0.0;
    double tunings_[3] = {};
    int strums_ = 0, tuned_ = 0;
};

}  // namespace gripline
