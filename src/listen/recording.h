// Listens to a recording as fast as it can, through exactly the chain that live listening uses.
#pragma once

#include <functional>
#include <string>

#include "audio/sound_source.h"
#include "base/result.h"
#include "dsp/strum_evidence.h"

namespace gripline {

struct HearConfig {
    double from_s = 0.0;     ///< strums that begin before this are left out
    double lead_in_s = 1.0;  ///< sound before from_s that is heard too: what rings there, and how loud the room is
};

/// How a hearing went.
struct Heard {
    double length_s = 0.0;          ///< sound heard, lead-in included
    int rate_hz = 0, channels = 0;
    std::uint64_t bad_samples = 0;  ///< no numbers; heard as 0
    bool clipping = false;          ///< full scale reached three times or more within a second
};

/// Called for each piece of evidence, in order, times counted from the beginning of the file; false ends the hearing.
using EvidenceTaker = std::function<bool(const dsp::StrumEvidence&)>;

/// Errors are FileSource's at opening; and, after all that could be read was heard, that the file was cut short.
Result<Heard> hear_recording(const std::string& path, const HearConfig& config, const EvidenceTaker& taker);

/// The same for any source that ends by itself, from its first frame on, which lies at start_s.
Heard hear_source(SoundSource& source, double start_s, const HearConfig& config, const EvidenceTaker& taker);

}  // namespace gripline
