// The one file that sees PortAudio (19.6).
#include <portaudio.h>

#include <algorithm>
#include <string>

#include "audio/audio_host.h"
#include "base/clock.h"

namespace gripline {
namespace {

/// At least so much sound lies ready for the output: what is sounded is planned ahead, and its delay is stated or measured, so a few milliseconds more cost nothing.
/// Measured beside three more programs of the kind on two cores, through a sound server: at the library's low latency (9 ms) the clicks broke off for a moment
/// 5 to 11 times in five minutes, at 30 ms not once.
constexpr double OUTPUT_LATENCY_S = 0.03;

class PortAudioStream final : public HostStream {
public:
    PaStream* stream = nullptr;
    std::shared_ptr<InputFeed> in;
    std::shared_ptr<OutputFeed> out;
    int channels = 1;
    bool jack = false;
    /// As the library states it for the stream as it was opened. What it tells block by block is worse: through a sound server it wanders by 3 ms from one opening
    /// to the next, where the instants of the calls themselves, evened out, come back within 0.2 ms (measured on a private PulseAudio, 12 openings).
    double latency_s = 0.0;

    ~PortAudioStream() override {
        if (stream == nullptr) return;
        Pa_AbortStream(stream);
        Pa_CloseStream(stream);
    }
    [[nodiscard]] bool active() const override { return Pa_IsStreamActive(stream) == 1; }
    [[nodiscard]] bool may_close() const override { return !jack || active(); }
};

int on_input(const void* input, void*, unsigned long frames, const PaStreamCallbackTimeInfo* time, PaStreamCallbackFlags flags, void* user) {
    const auto& stream = *static_cast<PortAudioStream*>(user);
    stream.in->take({.interleaved = static_cast<const float*>(input), .frames = frames, .channels = stream.channels,
                     .adc_s = time != nullptr ? time->inputBufferAdcTime : 0.0,
                     .clock_s = SteadyClock().now_s() - stream.latency_s, .overflow = (flags & paInputOverflow) != 0});
    return paContinue;
}

int on_output(const void*, void* output, unsigned long frames, const PaStreamCallbackTimeInfo*, PaStreamCallbackFlags, void* user) {
    const auto& stream = *static_cast<PortAudioStream*>(user);
    stream.out->give(static_cast<float*>(output), frames, stream.channels, SteadyClock().now_s() + stream.latency_s);
    return paContinue;
}

std::string host_api_name(PaHostApiIndex index) {
    const PaHostApiInfo* const api = Pa_GetHostApiInfo(index);
    return api != nullptr && api->name != nullptr ? api->name : "unknown";
}

PaStreamParameters parameters(const StreamPlan& plan) {
    const PaDeviceInfo* const info = Pa_GetDeviceInfo(plan.device.number);
    PaStreamParameters wanted{};
    wanted.device = plan.device.number;
    wanted.channelCount = plan.channels;
    wanted.sampleFormat = paFloat32;
    if (info != nullptr) wanted.suggestedLatency = plan.direction == SoundDirection::input ? info->defaultLowInputLatency : std::max(info->defaultLowOutputLatency, OUTPUT_LATENCY_S);
    return wanted;
}

double stated_latency_s(PaStream* stream, bool input) {
    const PaStreamInfo* const info = Pa_GetStreamInfo(stream);
    return info == nullptr ? 0.0 : input ? info->inputLatency : info->outputLatency;
}

Error open_error(const StreamPlan& plan, PaError code) {
    const std::string what = std::string(plan.direction == SoundDirection::input ? "input " : "output ") + std::to_string(plan.device.number) + " (" + plan.device.name + ") ";
    switch (code) {
        case paDeviceUnavailable: return Error{what + "is in use by another program, or gone: close that program, or choose another (`gripline devices` lists them)"};
        case paInvalidSampleRate:
            return Error{what + "does not take " + std::to_string(plan.rate_hz) + " Hz: leave the rate out, or use its own, " + std::to_string(static_cast<int>(plan.device.default_rate_hz)) + " Hz"};
        case paInvalidChannelCount: return Error{what + "does not take " + std::to_string(plan.channels) + " channels: choose a lower channel"};
        default: break;
    }
    std::string reason = Pa_GetErrorText(code);
    const PaHostErrorInfo* const host = code == paUnanticipatedHostError ? Pa_GetLastHostErrorInfo() : nullptr;
    if (host != nullptr && host->errorText != nullptr && host->errorText[0] != '\0') reason += std::string(", ") + host->errorText;
    return Error{what + "can't be opened (" + reason + "): check that it is plugged in and the sound server runs, or choose another"};
}

class PortAudioHost final : public AudioHost {
public:
    ~PortAudioHost() override = default;

    Result<std::vector<Device>> begin() override {
        end();
        if (const PaError code = Pa_Initialize(); code != paNoError) return Error{"the sound system can't be started (" + std::string(Pa_GetErrorText(code)) + ")"};
        begun_ = true;
        std::vector<Device> devices;
        for (int number = 0; number < std::max(0, Pa_GetDeviceCount()); ++number) {
            const PaDeviceInfo* const info = Pa_GetDeviceInfo(number);
            if (info == nullptr) continue;
            devices.push_back({.number = number, .name = info->name != nullptr ? info->name : "", .host_api = host_api_name(info->hostApi),
                               .inputs = info->maxInputChannels, .outputs = info->maxOutputChannels, .default_rate_hz = info->defaultSampleRate,
                               .default_input = number == Pa_GetDefaultInputDevice(), .default_output = number == Pa_GetDefaultOutputDevice()});
        }
        return devices;
    }

    void end() override {
        if (begun_) Pa_Terminate();
        begun_ = false;
    }

    bool takes_rate(const StreamPlan& plan) override {
        const PaStreamParameters wanted = parameters(plan);
        const bool input = plan.direction == SoundDirection::input;
        return Pa_IsFormatSupported(input ? &wanted : nullptr, input ? nullptr : &wanted, plan.rate_hz) != paInvalidSampleRate;
    }

    Result<std::unique_ptr<HostStream>> open(const StreamPlan& plan, std::shared_ptr<InputFeed> feed) override {
        auto stream = std::make_unique<PortAudioStream>();
        stream->in = std::move(feed);
        return open(plan, std::move(stream));
    }
    Result<std::unique_ptr<HostStream>> open(const StreamPlan& plan, std::shared_ptr<OutputFeed> feed) override {
        auto stream = std::make_unique<PortAudioStream>();
        stream->out = std::move(feed);
        return open(plan, std::move(stream));
    }

private:
    static Result<std::unique_ptr<HostStream>> open(const StreamPlan& plan, std::unique_ptr<PortAudioStream> stream) {
        stream->channels = plan.channels;
        stream->jack = plan.device.host_api.rfind("JACK", 0) == 0;
        const PaStreamParameters wanted = parameters(plan);
        const bool input = plan.direction == SoundDirection::input;
        PaError code = Pa_OpenStream(&stream->stream, input ? &wanted : nullptr, input ? nullptr : &wanted, plan.rate_hz,
                                     static_cast<unsigned long>(plan.block_frames), paClipOff | paDitherOff, input ? on_input : on_output, stream.get());
        if (code != paNoError) stream->stream = nullptr;
        else stream->latency_s = stated_latency_s(stream->stream, input);
        if (code == paNoError) code = Pa_StartStream(stream->stream);
        if (code != paNoError) return open_error(plan, code);
        return std::unique_ptr<HostStream>(std::move(stream));
    }

    bool begun_ = false;
};

}  // namespace

std::unique_ptr<AudioHost> make_port_audio() { return std::make_unique<PortAudioHost>(); }

}  // namespace gripline
