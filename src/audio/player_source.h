// The built-in player: a source that strums what it is told, so that everything can be tried without a guitar.
#pragma once

#include <memory>

#include "audio/noise.h"
#include "audio/ring.h"
#include "audio/sound_source.h"
#include "audio/strum.h"
#include "base/clock.h"

namespace gripline {

struct PlayerSourceConfig {
    int rate_hz = 48000;
    double noise_db = -66.0;     ///< RMS of the room's noise, dB below full scale
    double hardest_lag_s = 1.0;  ///< sound owed for longer than this (a machine asleep) is left out
    std::uint32_t seed = 1;      ///< of the room's noise
};

/// Gives as many frames as the clock says have passed since the first read. `strum` is for one thread (the screen's), `read` for another.
class PlayerSource final : public SoundSource {
public:
    explicit PlayerSource(std::shared_ptr<const Clock> clock = std::make_shared<SteadyClock>(), const PlayerSourceConfig& config = {});

    /// Plays a strum as soon as it can (within a read). False when too many wait already.
    bool strum(const Strum& strum) noexcept { return told_.write({&strum, 1}) == 1; }
    /// Plans and plays a grip. Each strum sounds a little different from the one before; the error is plan_strum's.
    Result<Strum> strum(const Grip& grip, const Tuning& tuning, int capo = 0, const std::optional<PlannedFault>& fault = {}, double a4_hz = 440.0);

    [[nodiscard]] int rate_hz() const override { return config_.rate_hz; }
    std::size_t read(std::span<float> frames) noexcept override;
    [[nodiscard]] SourceState state() const noexcept override { return SourceState::running; }
    [[nodiscard]] std::string name() const override { return "built-in player"; }

private:
    PlayerSourceConfig config_;
    std::shared_ptr<const Clock> clock_;
    SpscRing<Strum> told_;
    std::uint32_t strums_told_ = 0;
    // The reader's:
    StringBank strings_;
    Noise noise_;
    float noise_gain_;
    double origin_s_ = 0.0;
    std::uint64_t frames_ = 0;
    bool begun_ = false;
};

}  // namespace gripline
