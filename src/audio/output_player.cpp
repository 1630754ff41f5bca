#include "audio/output_player.h"

#include <algorithm>
#include <cmath>

namespace gripline {

OutputPlayer::OutputPlayer(SoundCard& card, const LineChoice& choice) {
    auto line = card.open(choice, SoundDirection::output);
    if (line) line_ = std::move(*line);
    else why_none_ = line.error().message;
}

OutputPlayer::~OutputPlayer() {
    if (line_) line_->let_go();
}

bool OutputPlayer::available() const noexcept { return line_ && line_->state() == SourceState::running; }
std::string OutputPlayer::trouble() const { return line_ ? line_->trouble() : why_none_; }
std::string OutputPlayer::name() const { return line_ ? line_->plan.device.name : "no output"; }
int OutputPlayer::rate_hz() const noexcept { return line_ ? line_->plan.rate_hz : 48000; }

bool OutputPlayer::play(std::span<const float> frames) noexcept {
    if (!available() || line_->out->room_frames() < frames.size()) return false;
    return line_->out->write(frames) == frames.size();
}

void OutputPlayer::hush() noexcept {
    if (line_) line_->out->hush();
}

void OutputPlayer::set_volume_db(double volume_db) noexcept {
    volume_db_ = std::isfinite(volume_db) ? std::clamp(volume_db, kLowest_db, kHighest_db) : 0.0;
    if (line_) line_->out->set_gain(static_cast<float>(std::pow(10.0, volume_db_ / 20.0)));
}

bool OutputPlayer::playing() const noexcept { return available() && line_->out->waiting_frames() > 0; }

}  // namespace gripline
