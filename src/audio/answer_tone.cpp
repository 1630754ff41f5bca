#include "audio/answer_tone.h"

#include <cmath>
#include <cstddef>
#include <numbers>

namespace gripline {

std::vector<float> render_answer_tone(int rate_hz, bool right) {
    const double tone_hz = right ? 880.0 : 220.0;
    const double peak = std::pow(10.0, kAnswerTonePeak_db / 20.0);
    std::vector<float> frames(static_cast<std::size_t>(kAnswerTone_s * rate_hz));
    for (std::size_t i = 0; i < frames.size(); ++i) {
        const double t_s = static_cast<double>(i) / rate_hz;
        const double swell = std::sin(std::numbers::pi * t_s / kAnswerTone_s);
        frames[i] = static_cast<float>(peak * swell * swell * std::sin(2.0 * std::numbers::pi * tone_hz * t_s));
    }
    return frames;
}

}  // namespace gripline
