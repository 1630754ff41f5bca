#include "ui/live_sound.h"

#include "audio/answer_tone.h"
#include "audio/strum.h"
#include "ui/kept_delays.h"

namespace gripline {
namespace {

constexpr double kTargetLength_s = 1.6;  // long enough to hear three voices apart (judgement)

/// Why nothing can be heard, for the line below the picture.
std::string mute_words(const OutputPlayer& output) { return "Can't play: " + (output.trouble().empty() ? "the output is not ready; try again" : output.trouble()); }

}  // namespace

LiveSound::LiveSound(SoundCard& card, const LiveSoundOptions& options)
    : card_(card), options_(options), output_(std::make_unique<OutputPlayer>(card, options.output)) {
    if (options.player) {
        why_player_ = "as chosen";
        listen_to_player();
        return;
    }
    const auto opened = listen_to_card();
    if (opened) return;
    const auto devices = card_.devices();
    bool any = false;
    if (devices) {
        for (const Device& device : *devices) any = any || device.inputs > 0;
    }
    why_player_ = any ? "the sound card can't be opened" : "no sound card found";
    notice_ = any ? opened.error().message : "";
    listen_to_player();
}

LiveSound::~LiveSound() {
    if (listener_) listener_->stop();
}

std::unique_ptr<SoundSource> LiveSound::tapped(std::unique_ptr<SoundSource> source) {
    if (!options_.keep_sound) return source;
    tap_ = std::make_shared<SoundTap>(source->rate_hz());
    return std::make_unique<TappedSource>(std::move(source), tap_);
}

void LiveSound::listen_to_player() {
    auto source = std::make_unique<PlayerSource>();
    player_ = source.get();
    device_ = nullptr;
    in_from_ = 0;
    listen(tapped(std::move(source)));
}

void LiveSound::listen(std::unique_ptr<SoundSource> source) {
    listener_ = std::make_unique<Listener>(std::move(source), ListenerConfig{.muted_strums = options_.muted_strums});
    listener_->start();
}

Result<std::string> LiveSound::listen_to_card() {
    auto source = DeviceSource::open(card_, options_.input);
    if (!source) return source.error();
    const DeviceSource* const device = source->get();
    in_from_ = device->frames_read();
    in_clock_ = StreamClock(device->rate_hz());
    listen(tapped(std::move(*source)));
    device_ = device;
    player_ = nullptr;
    return "Listening to " + listener_->source_name() + ".";
}

std::string LiveSound::source_name() const {
    const std::string name = pitch_ ? pitch_->source().name() : listener_->source_name();
    return player_ == nullptr ? name : name + " (" + why_player_ + ")";
}

InputState LiveSound::input() const {
    if (!pitch_) return listener_->input();
    InputState state;
    state.source = pitch_->source().state();
    state.lost_frames = pitch_->source().lost_frames();
    return state;
}

void LiveSound::listen_to_strings(bool strings) {
    if (strings && !pitch_) {
        pitch_ = std::make_unique<PitchListener>(listener_->give_source());
        listener_.reset();
    } else if (!strings && pitch_) {
        auto source = pitch_->give_source();
        in_from_ = device_ != nullptr ? device_->frames_read() : player_ != nullptr ? player_->frames_read() : 0;
        pitch_.reset();
        listen(std::move(source));
    }
}

Result<std::string> LiveSound::play(const PracticeStep& step, bool mistake) {
    if (player_ == nullptr) return Error{"the built-in player is not the input now: i changes the input"};
    std::optional<PlannedFault> fault;
    if (mistake) {
        fault = likely_mistake(step.grip, step.tuning, step.capo, options_.seed++);
        if (!fault) return Error{"no mistake could be heard on " + step.grip.text()};
    }
    const auto strum = player_->strum(step.grip, step.tuning, step.capo, fault, step.a4_hz);
    if (!strum) return strum.error();
    return "The player plays " + step.grip.text() + (fault ? ": " + describe(*fault) + "." : ", rightly.");
}

Result<double> LiveSound::sound_target(const PracticeStep& step) {
    if (!output_->available()) return Error{mute_words(*output_)};
    auto strum = plan_strum(step.grip, step.tuning, step.capo);
    if (!strum) return strum.error();
    strum->a4_hz = step.a4_hz;
    output_->hush();
    if (!output_->play(render_strum(*strum, output_->rate_hz(), kTargetLength_s))) return Error{mute_words(*output_)};
    return kTargetLength_s;
}

Result<double> LiveSound::sound_row(const std::vector<SoundedStep>& row) {
    if (!output_->available()) return Error{mute_words(*output_)};
    std::vector<float> frames;
    for (const SoundedStep& each : row) {
        auto strum = plan_strum(each.step.grip, each.step.tuning, each.step.capo);
        if (!strum) return strum.error();
        strum->a4_hz = each.step.a4_hz;
        const auto one = render_strum(*strum, output_->rate_hz(), each.length_s);
        frames.insert(frames.end(), one.begin(), one.end());
    }
    output_->hush();
    if (!output_->play(frames)) return Error{mute_words(*output_)};
    return static_cast<double>(frames.size()) / output_->rate_hz();
}

Result<double> LiveSound::sound_answer(bool right) {
    if (!output_->available()) return Error{mute_words(*output_)};
    if (!output_->play(render_answer_tone(output_->rate_hz(), right))) return Error{mute_words(*output_)};
    return kAnswerTone_s;
}

Result<bool> LiveSound::begin_clicks(const std::vector<PlannedClick>& clicks) {
    if (!output_->available()) return Error{"No click: " + output_->trouble()};
    if (!clicks_) clicks_.emplace(*output_);
    clicks_delay_s_ = 0.0;
    delay_known_ = device_ == nullptr;
    if (device_ != nullptr)
        if (const auto kept = load_delays(delays_path()))
            if (const auto delay = delay_of(*kept, device_->device_name(), output_->name())) {
                clicks_delay_s_ = delay->delay_ms / 1000.0;
                delay_known_ = true;
            }
    if (!clicks_->begin(clicks)) return Error{"No click: the line has more than " + std::to_string(Accompaniment::kMostPlanned) + " beats"};
    if (listener_) listener_->leave_out_clicks(device_ != nullptr);
    return true;
}

std::optional<double> LiveSound::input_now_s() const {
    if (player_ != nullptr) return player_->second_at(clock_.now_s()) - static_cast<double>(in_from_) / player_->rate_hz();
    if (device_ == nullptr || !in_clock_.ready()) return std::nullopt;
    return (in_clock_.frame_at(clock_.now_s()) - static_cast<double>(in_from_)) / device_->rate_hz();
}

std::optional<double> LiveSound::clicks_origin_s() {
    if (!clicks_ || !clicks_->runs()) return std::nullopt;
    clicks_->keep_going();
    if (device_ != nullptr)
        if (const auto stamp = device_->stamp()) in_clock_.take(*stamp);
    const auto input_s = input_now_s(), heard_s = clicks_->heard_s(clock_.now_s());
    if (!input_s || !heard_s) return std::nullopt;
    return *input_s - *heard_s + clicks_delay_s_;
}

void LiveSound::end_clicks() {
    if (clicks_) clicks_->end();
    if (listener_) listener_->leave_out_clicks(false);
}

Result<std::string> LiveSound::change_input() {
    end_clicks();
    listen_to_strings(false);
    if (player_ != nullptr) return listen_to_card();
    why_player_ = "as chosen";
    listen_to_player();
    return std::string("The built-in player is the input: p plays what is asked, m a likely mistake.");
}

}  // namespace gripline
