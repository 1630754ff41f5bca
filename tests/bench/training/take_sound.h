// The sound of a whole take, and the body knocks that may be added to it.
#pragma once

#include <random>
#include <span>
#include <string>
#include <vector>

#include "base/result.h"

namespace gripline::training {

struct TakeSound {
    int rate_hz = 0;
    std::vector<float> frames;  ///< mono, full scale = 1
};

/// Errors are FileSource's.
Result<TakeSound> read_sound(const std::string& path);

/// Adds a body's answer to each pluck, drawn anew for each take: the air and top resonances of a guitar (85 to 130, 170 to 250, 300 to 450 Hz)
/// ring for some tens of milliseconds at every pluck of a strum. The mixed takes have sampled or computed strings, but no body that a
/// hand knocks on. Two takes in five stay as they are. `thin_microphone`: it does not pass the lowest resonance.
void add_knocks(TakeSound& sound, std::span<const double> onsets_s, bool thin_microphone, std::mt19937& random);

}  // namespace gripline::training
