// The world of sound as it is: the sound card when there is one, else the built-in player.
#pragma once

#include <memory>
#include <string>

#include "audio/device_source.h"
#include "audio/output_player.h"
#include "audio/player_source.h"
#include "audio/sound_card.h"
#include "base/clock.h"
#include "listen/pitch_listener.h"
#include "ui/click_track.h"
#include "ui/practice_sound.h"

namespace gripline {

struct LiveSoundOptions {
    LineChoice input;             ///< empty: the system's default
    LineChoice output;
    bool player = false;          ///< the built-in player, even when there is a sound card
    std::uint32_t seed = 1;       ///< of the player's mistakes
    bool keep_sound = false;      ///< keep the input's sound for a while, see tap()
    bool muted_strums = false;    ///< look for them, for take_muted()
};

class LiveSound final : public PracticeSound {
public:
    /// Opens the input. `notice()` says when another than the chosen one had to be taken, and why. Never fails: the built-in player
    /// is always there.
    LiveSound(SoundCard& card, const LiveSoundOptions& options);
    ~LiveSound() override;

    bool take(dsp::StrumEvidence& evidence) override { return listener_ && listener_->take(evidence); }
    /// With LiveSoundOptions::muted_strums.
    bool take_muted(dsp::MutedStrum& muted) override { return listener_ && listener_->take_muted(muted); }
    /// While the tuner listens: state and lost frames alone.
    [[nodiscard]] InputState input() const override;
    [[nodiscard]] std::string source_name() const override;
    [[nodiscard]] std::string trouble() const override { return pitch_ ? pitch_->source().trouble() : listener_->trouble(); }
    [[nodiscard]] bool player_is_input() const override { return player_ != nullptr; }
    Result<std::string> play(const PracticeStep& step, bool mistake) override;
    Result<double> sound_target(const PracticeStep& step) override;
    Result<double> sound_row(const std::vector<SoundedStep>& row) override;
    Result<double> sound_answer(bool right) override;
    [[nodiscard]] std::string output_trouble() const override { return output_->available() ? "" : output_->trouble(); }
    Result<bool> begin_clicks(const std::vector<PlannedClick>& clicks) override;
    std::optional<double> clicks_origin_s() override;
    void end_clicks() override;
    [[nodiscard]] bool delay_known() const override { return delay_known_; }
    Result<std::string> change_input() override;
    void listen_to_strings(bool strings) override;
    bool take_pitch(dsp::PitchReading& reading) override { return pitch_ && pitch_->take(reading); }
    [[nodiscard]] SoundTap* tap() override { return tap_.get(); }

    /// What the player should be told at the start; empty when the chosen input is open.
    [[nodiscard]] const std::string& notice() const noexcept { return notice_; }

private:
    void listen_to_player();
    void listen(std::unique_ptr<SoundSource> source);
    /// The second of the input's stream that is taken in now; nothing until its clock is known.
    [[nodiscard]] std::optional<double> input_now_s() const;
    /// The source, with a tap in front of it when the sound is to be kept.
    std::unique_ptr<SoundSource> tapped(std::unique_ptr<SoundSource> source);
    /// An error leaves everything as it was.
    Result<std::string> listen_to_card();

    SoundCard& card_;
    LiveSoundOptions options_;
    std::unique_ptr<OutputPlayer> output_;
    std::unique_ptr<Listener> listener_;     // this or the next, never both
    std::unique_ptr<PitchListener> pitch_;
    PlayerSource* player_ = nullptr;         // inside listener_ or pitch_, or none
    const DeviceSource* device_ = nullptr;   // likewise
    std::uint64_t in_from_ = 0;              // frame of the source's stream at which ours began
    StreamClock in_clock_{48000};
    std::optional<ClickTrack> clicks_;       // made for the output there is
    bool delay_known_ = true;
    double clicks_delay_s_ = 0.0;            // measured for these devices, or 0
    SteadyClock clock_;
    std::shared_ptr<SoundTap> tap_;
    std::string why_player_;          // "no sound card found"
    std::string notice_;
};

}  // namespace gripline
