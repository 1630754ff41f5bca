#include "listen/recording.h"

#include <algorithm>
#include <array>
#include <memory>

#include "audio/file_source.h"
#include "listen/input_meter.h"
#include "listen/ongoing_chain.h"

namespace gripline {

Heard hear_source(SoundSource& source, double start_s, const HearConfig& config, const EvidenceTaker& taker) {
    OngoingChain chain(source.rate_hz(), start_s);
    InputMeter meter(source.rate_hz());
    const auto evidence = std::make_unique<dsp::StrumEvidence>();
    Heard heard{.rate_hz = source.rate_hz()};
    bool go_on = true;
    const auto hand_out = [&] {
        while (go_on && chain.take(*evidence))
            if (evidence->onset_s >= config.from_s) go_on = taker(*evidence);
    };
    std::array<float, kHopFrames> hop{};
    while (go_on) {
        const std::size_t got = source.read(hop);
        if (got == 0) break;
        chain.process({hop.data(), got});
        meter.process({hop.data(), got}, source.clipped_frames());
        heard.clipping = heard.clipping || meter.clipping();
        hand_out();
    }
    chain.finish();
    hand_out();
    heard.length_s = chain.stream_s() - start_s;
    return heard;
}

Result<Heard> hear_recording(const std::string& path, const HearConfig& config, const EvidenceTaker& taker) {
    const double start_s = std::max(0.0, config.from_s - config.lead_in_s);
    auto source = FileSource::open(path, {.start_s = start_s, .clock = nullptr});
    if (!source) return source.error();
    FileSource& file = **source;
    Heard heard = hear_source(file, start_s, config, taker);
    heard.channels = file.channels();
    heard.bad_samples = file.bad_samples();
    if (const std::string trouble = file.trouble(); !trouble.empty()) return Error{trouble};
    return heard;
}

}  // namespace gripline
