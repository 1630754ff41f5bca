// Plays short sounds: a target to be heard, a click. Starts quiet; without an output it says so and plays nothing.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>

#include "audio/sound_card.h"

namespace gripline {

/// For one thread (the screen's).
class OutputPlayer {
public:
    /// Limits of set_volume_db. Sounds peak at -24 dB below full scale (kQuietPeak_db); at the top they peak at -6.
    static constexpr double kLowest_db = -40.0, kHighest_db = 18.0;

    /// Opens the output, or, when there is none, makes a player that is not available().
    explicit OutputPlayer(SoundCard& card, const LineChoice& choice = {});
    ~OutputPlayer();
    OutputPlayer(const OutputPlayer&) = delete;
    OutputPlayer& operator=(const OutputPlayer&) = delete;

    [[nodiscard]] bool available() const noexcept;
    /// Why nothing can be heard, and what to do; empty when all is well.
    [[nodiscard]] std::string trouble() const;
    [[nodiscard]] std::string name() const;
    /// Rate at which sounds have to be made for play(); 48000 when there is no output.
    [[nodiscard]] int rate_hz() const noexcept;
    /// Plays mono frames after those that still wait; false when nothing can be heard, or less than all would fit (then none is taken).
    bool play(std::span<const float> frames) noexcept;
    /// Frames given to play() so far, frames that wait, frames of silence since sound was expected.
    [[nodiscard]] std::uint64_t written_frames() const noexcept { return line_ ? line_->out->written_frames() : 0; }
    [[nodiscard]] std::size_t waiting_frames() const noexcept { return line_ ? line_->out->waiting_frames() : 0; }
    [[nodiscard]] std::uint64_t starved_frames() const noexcept { return line_ ? line_->out->starved_frames() : 0; }
    /// Silence from here on would be a gap, or would not.
    void expect_sound(bool expected) noexcept { if (line_) line_->out->expect_sound(expected); }
    /// When a frame given to play() is heard, by the output's own clock; nullopt before the first, and without an output.
    [[nodiscard]] std::optional<FrameStamp> stamp() const noexcept { return line_ ? line_->out->stamp() : std::nullopt; }
    /// Fades out what plays, at once.
    void hush() noexcept;
    /// dB more or less than the quiet beginning (0); kept within the limits.
    void set_volume_db(double volume_db) noexcept;
    [[nodiscard]] double volume_db() const noexcept { return volume_db_; }
    /// Whether something still waits to be played.
    [[nodiscard]] bool playing() const noexcept;

private:
    std::shared_ptr<SoundLine> line_;
    std::string why_none_;
    double volume_db_ = 0.0;
};

}  // namespace gripline
