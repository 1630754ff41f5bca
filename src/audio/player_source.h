// The built-in player: a source that strums what it is told, so that everything can be tried without a guitar.
#pragma once

#include <atomic>
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
    bool strum(const Strum& strum) noexcept { return strum_at(strum, 0.0); }
    /// The same at a second of the stream; at once when it has gone by. Strums sound in the order they are told.
    bool strum_at(const Strum& strum, double stream_s) noexcept;
    /// Plans and plays a grip. Each strum sounds a little different from the one before; the error is plan_strum's.
    Result<Strum> strum(const Grip& grip, const Tuning& tuning, int capo = 0, const std::optional<PlannedFault>& fault = {}, double a4_hz = 440.0);

    [[nodiscard]] int rate_hz() const override { return config_.rate_hz; }
    std::size_t read(std::span<float> frames) noexcept override;
    [[nodiscard]] SourceState state() const noexcept override { return SourceState::running; }
    [[nodiscard]] std::string name() const override { return "built-in player"; }
    /// Any thread. Frames given so far; and the second of the stream that is due at now_s of the clock (0 before the first read).
    [[nodiscard]] std::uint64_t frames_read() const noexcept { return frames_.load(std::memory_order_relaxed); }
    [[nodiscard]] double second_at(double now_s) const noexcept { return begun_.load(std::memory_order_acquire) ? now_s - origin_s_.load(std::memory_order_relaxed) : 0.0; }

private:
    PlayerSourceConfig config_;
    std::shared_ptr<const Clock> clock_;
    struct Told {
        Strum strum;
        double stream_s = 0.0;
    };
    SpscRing<Told> told_;
    std::uint32_t strums_told_ = 0;
    // The reader's:
    StringBank strings_;
    Noise noise_;
    float noise_gain_;
    Told next_;
    bool waits_ = false;  // next_
    std::atomic<double> origin_s_{0.0};
    std::atomic<std::uint64_t> frames_{0};
    std::atomic<bool> begun_{false};
};

}  // namespace gripline
