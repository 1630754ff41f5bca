// Walking with the sound card: the input's listener, the output's feed, and the clocks of both.
#pragma once

#include <memory>

#include "audio/device_source.h"
#include "audio/player_source.h"
#include "audio/sound_card.h"
#include "audio/stream_clock.h"
#include "base/clock.h"
#include "ui/walk_sound.h"

namespace gripline {

struct WalkSoundOptions {
    LineChoice input;       ///< empty: the system's default
    LineChoice output;
    bool player = false;    ///< the built-in player is the input; it also is when the machine has no input at all
    bool listen = true;     ///< false: no input is opened
};

/// Its own clicks are not listened to, should they come back through the input. Without an output the music runs silently by the machine's clock; without an input nothing is heard. `notice()` says so.
class LiveWalkSound final : public WalkSound {
public:
    LiveWalkSound(SoundCard& card, const WalkSoundOptions& options);
    ~LiveWalkSound() override;

    bool take(dsp::StrumEvidence& evidence) override { return listener_ && listener_->take(evidence); }
    [[nodiscard]] InputState input() const override;
    [[nodiscard]] bool hears() const override { return listener_ || plain_; }
    [[nodiscard]] bool sounds() const override { return out_ != nullptr; }
    [[nodiscard]] std::string source_name() const override;
    [[nodiscard]] std::string output_name() const override { return out_ ? out_->plan.device.name : "no output"; }
    [[nodiscard]] std::string trouble() const override;
    [[nodiscard]] int rate_hz() const override { return out_ ? out_->plan.rate_hz : 48000; }
    void begin_music() override;
    [[nodiscard]] std::size_t wanted_frames() const override;
    void write(std::span<const float> frames) override;
    void end_music() override;
    void look() override;
    [[nodiscard]] double heard_s() const override;
    [[nodiscard]] std::optional<double> input_origin_s() const override;
    [[nodiscard]] std::uint64_t gap_frames() const override { return out_ ? out_->out->starved_frames() - gaps_before_ : 0; }
    void set_volume_db(double volume_db) override;
    [[nodiscard]] double volume_db() const override { return volume_db_; }
    void set_delay(const std::optional<MeasuredDelay>& delay) override { delay_ = delay; }
    [[nodiscard]] std::optional<MeasuredDelay> delay() const override { return delay_; }
    void listen_plainly(bool plainly) override;
    std::size_t read_plain(std::span<float> frames) override { return plain_ ? plain_->read(frames) : 0; }
    [[nodiscard]] int input_rate_hz() const override { return in_rate_hz_; }
    bool player_strums(const Strum& strum, double stream_s) override { return player_ != nullptr && player_->strum_at(strum, stream_s); }

    [[nodiscard]] bool player_is_input() const noexcept { return player_ != nullptr; }
    /// What had to be taken instead of what was asked; empty when all is as asked.
    [[nodiscard]] const std::string& notice() const noexcept { return notice_; }
    /// Names of the pair of devices, under which its delay is kept.
    [[nodiscard]] std::string input_name() const;

private:
    void open_input(const WalkSoundOptions& options);
    void listen(std::unique_ptr<SoundSource> source);
    void listen_to_player();
    void open_output_again();
    void keep_output_running();

    SoundCard& card_;
    WalkSoundOptions options_;
    SteadyClock clock_;
    std::shared_ptr<SoundLine> out_;
    std::unique_ptr<Listener> listener_;    // this or the next, never both
    std::unique_ptr<SoundSource> plain_;
    const DeviceSource* device_ = nullptr;  // inside listener_ or plain_, or none
    PlayerSource* player_ = nullptr;        // likewise
    int in_rate_hz_ = 48000;
    std::uint64_t in_from_ = 0;             // frame of the device's stream at which ours began
    StreamClock in_clock_{48000}, out_clock_{48000};
    std::int64_t music_from_ = 0;           // written frame at which the music began; below 0 when an output was opened anew during it
    bool reopened_ = false;                 // during this music
    std::uint64_t standing_from_ = 0;       // written frame from which on stamps are trusted: behind what was hushed last
    std::uint64_t gaps_before_ = 0, gaps_seen_ = 0;
    bool music_ = false;
    double began_s_ = 0.0;                  // no output: when
    std::uint64_t written_ = 0;             // frames of the music
    double retry_s_ = 0.0;
    double volume_db_ = 0.0;
    std::optional<MeasuredDelay> delay_;
    std::string notice_;
};

}  // namespace gripline
