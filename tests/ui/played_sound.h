// A world of sound that stands still until a test moves it: the built-in player, the real listening chain, one thread.
#pragma once

#include <array>
#include <cmath>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "audio/player_source.h"
#include "dsp/muted_strum.h"
#include "dsp/pitch.h"
#include "listen/ongoing_chain.h"
#include "support/fake_clock.h"
#include "ui/practice_sound.h"

namespace gripline::test {

class PlayedSound final : public PracticeSound {
public:
    PlayedSound() : clock_(std::make_shared<FakeClock>()), player_(clock_), chain_(std::in_place, player_.rate_hz()), muted_({.rate_hz = player_.rate_hz()}), pitch_({.rate_hz = player_.rate_hz()}) {}

    bool take(dsp::StrumEvidence& evidence) override { return chain_->take(evidence); }
    bool take_muted(dsp::MutedStrum& muted) override { return muted_.take(muted); }
    [[nodiscard]] InputState input() const override {
        InputState state = input_;
        state.stream_s = chain_->stream_s();
        state.decided_s = muted_.decided_s();
        return state;
    }
    [[nodiscard]] std::string source_name() const override { return player_is_input_ ? "built-in player (no sound card found)" : "line in (2 in, 48000 Hz)"; }
    [[nodiscard]] std::string trouble() const override { return input_.source == SourceState::lost ? "the device is lost: plug it in again" : ""; }
    [[nodiscard]] bool player_is_input() const override { return player_is_input_; }
    Result<std::string> play(const PracticeStep& step, bool mistake) override {
        std::optional<PlannedFault> fault;
        if (mistake) fault = PlannedFault{PlannedFaultKind::wrong_note, step.notes().back().string, -1};
        const auto strum = player_.strum(step.grip, step.tuning, step.capo, fault, step.a4_hz * std::exp2(detuned_cents_ / 1200.0));
        if (!strum) return strum.error();
        return std::string(mistake ? "The player plays a mistake." : "The player plays, rightly.");
    }
    /// The player strums what the test says.
    void strum(const PracticeStep& step, const std::optional<PlannedFault>& fault) { (void)player_.strum(step.grip, step.tuning, step.capo, fault, step.a4_hz); }
    Result<double> sound_target(const PracticeStep&) override {
        if (!output_) return Error{"there is no output"};
        return 1.6;
    }
    Result<double> sound_answer(bool right) override {
        answers_.push_back(right);
        return 0.16;
    }
    Result<double> sound_row(const std::vector<SoundedStep>& row) override {
        if (!output_) return Error{"there is no output"};
        rows_.push_back(row);
        return length_s(row);
    }
    std::vector<std::vector<SoundedStep>> rows_;  ///< sounded so far
    [[nodiscard]] std::string output_trouble() const override { return output_ ? "" : "there is no output"; }
    /// Clicks are heard kClicksLate_s after they were begun, which is known a tenth of a second later.
    Result<bool> begin_clicks(const std::vector<PlannedClick>& clicks) override {
        if (!output_) return Error{"No click: there is no output."};
        clicks_ = clicks;
        clicks_from_s_ = input().stream_s + kClicksLate_s;
        return true;
    }
    std::optional<double> clicks_origin_s() override {
        if (clicks_.empty() || input().stream_s < clicks_from_s_ + 0.1) return std::nullopt;
        return clicks_from_s_;
    }
    void end_clicks() override { clicks_.clear(); }
    [[nodiscard]] bool delay_known() const override { return delay_known_; }
    bool delay_known_ = true;
    Result<std::string> change_input() override {
        if (!card_) return Error{"there is no sound card"};
        player_is_input_ = !player_is_input_;
        return source_name();
    }
    void listen_to_strings(bool strings) override {
        strings_ = strings;
        pitch_.reset();
        chain_.emplace(player_.rate_hz());
        muted_.reset();
    }
    bool take_pitch(dsp::PitchReading& reading) override { return strings_ && pitch_.take(reading); }
    SoundTap* tap() override { return tap_ ? &*tap_ : nullptr; }
    void keep_sound() { tap_.emplace(player_.rate_hz()); }

    /// Moves the clock hop by hop, and lets `each` see it after each.
    template <class Each>
    void advance(double seconds, Each each) {
        const double until_s = clock_->now_s() + seconds;
        while (clock_->now_s() < until_s) {
            clock_->advance(static_cast<double>(kHopFrames) / player_.rate_hz());
            const std::size_t frames = player_.read(frames_);
            const std::span<const float> heard(frames_.data(), frames);
            if (strings_) pitch_.process(heard);
            else {
                muted_.process(heard);
                chain_->process(heard);
            }
            if (tap_) tap_->put(heard);
            input_.level_db = chain_->level_db();
            each(clock_->now_s());
        }
    }
    [[nodiscard]] double now_s() const { return clock_->now_s(); }

    InputState input_;
    bool player_is_input_ = true;
    bool card_ = true;
    bool output_ = true;
    std::vector<bool> answers_;     ///< the tones that told right or wrong
    bool strings_ = false;          ///< listening for the tuner
    double detuned_cents_ = 0.0;    ///< of the player's guitar
    static constexpr double kClicksLate_s = 0.09;
    std::vector<PlannedClick> clicks_;
    double clicks_from_s_ = 0.0;

private:
    std::shared_ptr<FakeClock> clock_;
    PlayerSource player_;
    std::optional<OngoingChain> chain_;
    dsp::MutedStrumDetector muted_;
    std::optional<SoundTap> tap_;
    dsp::PitchEstimator pitch_;
    std::array<float, 2 * kHopFrames> frames_{};
};

}  // namespace gripline::test
