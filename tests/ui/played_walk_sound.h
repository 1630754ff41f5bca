// The walk's world of sound, standing still until a test moves it: the built-in player as input, the real listening chain, an output that keeps what it was given.
#pragma once

#include <array>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "audio/player_source.h"
#include "listen/ongoing_chain.h"
#include "support/fake_clock.h"
#include "ui/walk_sound.h"

namespace gripline::test {

class PlayedWalkSound final : public WalkSound {
public:
    PlayedWalkSound() : clock_(std::make_shared<FakeClock>()), player_(clock_), chain_(std::in_place, player_.rate_hz()) {}

    bool take(dsp::StrumEvidence& evidence) override { return hears_ && !lost_ && chain_->take(evidence); }
    [[nodiscard]] InputState input() const override {
        InputState state;
        state.stream_s = chain_->stream_s();
        state.level_db = chain_->level_db();
        if (lost_) state.source = SourceState::lost;
        return state;
    }
    [[nodiscard]] bool hears() const override { return hears_; }
    [[nodiscard]] bool sounds() const override { return true; }
    [[nodiscard]] std::string source_name() const override { return "built-in player"; }
    [[nodiscard]] std::string output_name() const override { return "test output"; }
    [[nodiscard]] std::string trouble() const override { return lost_ ? "line in gives no sound any more: check its cable" : ""; }
    [[nodiscard]] int rate_hz() const override { return 48000; }
    void begin_music() override {
        began_s_ = now_s();
        written_.clear();
        music_ = true;
    }
    [[nodiscard]] std::size_t wanted_frames() const override {
        const double due = (now_s() - began_s_ + 0.4) * rate_hz() - static_cast<double>(written_.size());
        return music_ && due > 0.0 ? static_cast<std::size_t>(due) : 0;
    }
    void write(std::span<const float> frames) override { written_.insert(written_.end(), frames.begin(), frames.end()); }
    void end_music() override { music_ = false; }
    void look() override {}
    [[nodiscard]] double heard_s() const override { return music_ ? now_s() - began_s_ : 0.0; }
    [[nodiscard]] std::optional<double> input_origin_s() const override {
        if (!hears_ || !music_ || now_s() - began_s_ < 0.1) return std::nullopt;
        return chain_->stream_s() - heard_s() + extra_delay_s_;
    }
    [[nodiscard]] std::uint64_t gap_frames() const override { return 0; }
    void set_volume_db(double volume_db) override { volume_db_ = volume_db; }
    [[nodiscard]] double volume_db() const override { return volume_db_; }
    void set_delay(const std::optional<MeasuredDelay>& delay) override { delay_ = delay; }
    [[nodiscard]] std::optional<MeasuredDelay> delay() const override { return delay_; }
    void listen_plainly(bool) override {}
    std::size_t read_plain(std::span<float>) override { return 0; }
    [[nodiscard]] int input_rate_hz() const override { return player_.rate_hz(); }
    bool player_strums(const Strum& strum, double stream_s) override { return player_.strum_at(strum, stream_s - extra_delay_s_ + missed_s_); }

    /// Moves the clock hop by hop. While the input is lost its sound is missing from the stream.
    void advance_hop() {
        clock_->advance(static_cast<double>(kHopFrames) / player_.rate_hz());
        const std::size_t frames = player_.read(frames_);
        if (lost_) missed_s_ += static_cast<double>(frames) / player_.rate_hz();
        else chain_->process({frames_.data(), frames});
    }
    void lose() { lost_ = true; }
    void bring_back() {
        lost_ = false;
        chain_->begin_anew();
    }
    [[nodiscard]] double now_s() const { return clock_->now_s(); }
    [[nodiscard]] const std::vector<float>& written() const { return written_; }

    bool hears_ = true;
    double extra_delay_s_ = 0.0;  ///< as if the input's stream lay so much later

private:
    std::shared_ptr<FakeClock> clock_;
    PlayerSource player_;
    std::optional<OngoingChain> chain_;
    std::array<float, 2 * kHopFrames> frames_{};
    std::vector<float> written_;
    double began_s_ = 0.0, volume_db_ = 0.0, missed_s_ = 0.0;
    bool music_ = false, lost_ = false;
    std::optional<MeasuredDelay> delay_;
};

}  // namespace gripline::test
