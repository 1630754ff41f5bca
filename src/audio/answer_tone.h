// A short soft tone that tells the ears what the eyes would read: right is high, wrong is low.
#pragma once

#include <vector>

namespace gripline {

inline constexpr double kAnswerTone_s = 0.16;         ///< heard as one short tone, over before the next strum (judgement)
inline constexpr double kAnswerTonePeak_db = -30.0;   ///< below full scale: softer than anything else the tool sounds

/// Mono frames: a sine that swells and fades, A5 for right, A3 for wrong (two octaves apart are told apart at once; judgement). rate_hz: 8000 to 192000.
[[nodiscard]] std::vector<float> render_answer_tone(int rate_hz, bool right);

}  // namespace gripline
