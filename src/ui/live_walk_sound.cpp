#include "ui/live_walk_sound.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "audio/output_player.h"

namespace gripline {

namespace {

/// Music rendered ahead: the screen's thread may be kept waiting for so long without a gap. Longer would delay a change of the click.
constexpr double kAhead_s = 0.4;
/// And silence between two walks: what comes next begins so much later.
constexpr double kSilence_s = 0.1;
/// An output that was opened anew plays once so many blocks have gone (half a second): opening alone takes a few.
constexpr std::uint64_t kPlays_blocks = 100;
/// An output that was lost alone is tried again so often: opening may take a moment.
constexpr double kOutputRetry_s = 2.0;

}  // namespace

LiveWalkSound::LiveWalkSound(SoundCard& card, const WalkSoundOptions& options) : card_(card), options_(options) {
    auto output = card.open(options.output, SoundDirection::output);
    if (output) {
        out_ = std::move(*output);
        out_clock_ = StreamClock(out_->plan.rate_hz);
    } else {
        notice_ = "Silent: " + output.error().message;
    }
    if (options.player) {
        listen_to_player();
    } else if (options.listen) {
        open_input(options);
    }
    set_volume_db(0.0);
}

LiveWalkSound::~LiveWalkSound() {
    if (listener_) listener_->stop();
    if (out_) out_->let_go();
}

void LiveWalkSound::open_input(const WalkSoundOptions& options) {
    auto source = DeviceSource::open(card_, options.input);
    if (!source) {
        const auto devices = card_.devices();
        const bool any = devices && std::any_of(devices->begin(), devices->end(), [](const Device& device) { return device.inputs > 0; });
        notice_ = any ? "Not listening: " + source.error().message : "No sound card found: the built-in player walks along.";
        if (!any) listen_to_player();
        return;
    }
    device_ = source->get();
    listen(std::move(*source));
}

void LiveWalkSound::listen_to_player() {
    auto player = std::make_unique<PlayerSource>();
    player_ = player.get();
    listen(std::move(player));
}

void LiveWalkSound::listen(std::unique_ptr<SoundSource> source) {
    in_rate_hz_ = source->rate_hz();
    in_clock_ = StreamClock(in_rate_hz_);
    in_from_ = device_ != nullptr ? device_->frames_read() : player_ != nullptr ? player_->frames_read() : 0;
    listener_ = std::make_unique<Listener>(std::move(source));
    listener_->leave_out_clicks(out_ && device_ != nullptr);
    listener_->start();
}

void LiveWalkSound::listen_plainly(bool plainly) {
    if (plainly && listener_) {
        plain_ = listener_->give_source();
        listener_.reset();
        in_from_ = device_ != nullptr ? device_->frames_read() : player_ != nullptr ? player_->frames_read() : 0;
    } else if (!plainly && plain_) {
        listen(std::move(plain_));
        plain_.reset();
    }
}

InputState LiveWalkSound::input() const {
    if (listener_) return listener_->input();
    InputState state;
    if (plain_) state.source = plain_->state();
    return state;
}

std::string LiveWalkSound::input_name() const { return device_ != nullptr ? device_->device_name() : player_ != nullptr ? "built-in player" : ""; }
std::string LiveWalkSound::source_name() const { return listener_ ? listener_->source_name() : plain_ ? plain_->name() : "no input"; }

std::string LiveWalkSound::trouble() const {
    const std::string input = listener_ ? listener_->trouble() : plain_ ? plain_->trouble() : "";
    return !input.empty() || !out_ ? input : out_->trouble();
}

void LiveWalkSound::begin_music() {
    music_ = true;
    began_s_ = clock_.now_s();
    written_ = 0;
    reopened_ = false;
    if (!out_) return;
    music_from_ = static_cast<std::int64_t>(out_->out->written_frames());
    gaps_before_ = gaps_seen_ = out_->out->starved_frames();
}

void LiveWalkSound::end_music() {
    music_ = false;
    if (!out_) return;
    out_->out->hush();
    out_clock_.reset();  // what is hushed is skipped, and all that follows comes sooner
    standing_from_ = out_->out->written_frames();
}

/// Silence while nothing is to be heard, so that the output's clock is known by the time music begins.
void LiveWalkSound::keep_output_running() {
    constexpr std::array<float, 256> kSilence{};
    const auto least = static_cast<std::size_t>(kSilence_s * rate_hz());
    while (out_->out->waiting_frames() < least && out_->out->write(kSilence) > 0) {}
    out_->out->expect_sound(true);
}

std::size_t LiveWalkSound::wanted_frames() const {
    if (!music_) return 0;
    if (out_ && reopened_ && out_->out->blocks() < kPlays_blocks) return 0;  // not before it is seen to play
    const auto ahead = static_cast<std::size_t>(kAhead_s * rate_hz());
    if (out_) return ahead - std::min(ahead, out_->out->waiting_frames());
    const double due = (clock_.now_s() - began_s_ + kAhead_s) * rate_hz() - static_cast<double>(written_);
    return due > 0.0 ? std::min(static_cast<std::size_t>(due), ahead) : 0;
}

void LiveWalkSound::write(std::span<const float> frames) {
    written_ += frames.size();
    if (!out_) return;
    out_->out->write(frames);
    out_->out->expect_sound(true);
}

void LiveWalkSound::look() {
    if (device_ != nullptr)
        if (const auto stamp = device_->stamp()) in_clock_.take(*stamp);
    if (!out_) return;
    if (out_->state() == SourceState::lost) open_output_again();
    if (!music_) keep_output_running();
    if (const std::uint64_t gaps = out_->out->starved_frames(); gaps != gaps_seen_) {
        gaps_seen_ = gaps;
        out_clock_.reset();  // all that follows is later than it was planned
    }
    if (const auto stamp = out_->out->stamp(); stamp && stamp->frame >= standing_from_) out_clock_.take(*stamp);
}

/// The sound card brings a lost output back only together with the input; alone it is opened anew.
void LiveWalkSound::open_output_again() {
    const bool input_runs = device_ != nullptr && device_->state() == SourceState::running;
    if (!input_runs || clock_.now_s() < retry_s_) return;
    retry_s_ = clock_.now_s() + kOutputRetry_s;
    auto again = card_.open(options_.output, SoundDirection::output);
    if (!again) return;
    out_->let_go();
    out_ = std::move(*again);
    out_clock_ = StreamClock(out_->plan.rate_hz);
    music_from_ = -static_cast<std::int64_t>(written_);  // what waited in the lost one is not heard any more
    standing_from_ = gaps_before_ = gaps_seen_ = 0;
    reopened_ = true;
    set_volume_db(volume_db_);
}

double LiveWalkSound::heard_s() const {
    if (!music_) return 0.0;
    const double now_s = clock_.now_s();
    if (!out_) return now_s - began_s_;
    const double rate_hz = out_->plan.rate_hz;
    if (out_clock_.ready() && out_->state() == SourceState::running) return (out_clock_.frame_at(now_s) - static_cast<double>(music_from_)) / rate_hz;
    return (static_cast<double>(written_) - static_cast<double>(out_->out->waiting_frames())) / rate_hz;
}

std::optional<double> LiveWalkSound::input_origin_s() const {
    if (!hears() || !music_) return std::nullopt;
    const bool by_stamps = out_ && out_clock_.ready();
    if (out_ && !by_stamps && !reopened_) return std::nullopt;
    const double heard_now_s = heard_s(), now_s = clock_.now_s();
    double input_now_s = 0.0;
    if (player_ != nullptr) {
        input_now_s = player_->second_at(now_s) - static_cast<double>(in_from_) / in_rate_hz_;
    } else {
        if (!in_clock_.ready()) return std::nullopt;
        input_now_s = (in_clock_.frame_at(now_s) - static_cast<double>(in_from_)) / in_rate_hz_;
    }
    return input_now_s - heard_now_s + (delay_ ? delay_->delay_ms / 1000.0 : 0.0);
}

void LiveWalkSound::set_volume_db(double volume_db) {
    volume_db_ = std::clamp(volume_db, OutputPlayer::kLowest_db, OutputPlayer::kHighest_db);
    if (out_) out_->out->set_gain(static_cast<float>(std::pow(10.0, volume_db_ / 20.0)));
}

}  // namespace gripline
