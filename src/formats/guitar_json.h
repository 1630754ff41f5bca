// A guitar's profile as one JSON object in a line.
#pragma once

#include <string>

#include "practice/guitar_profile.h"

namespace gripline {

/// name, input, made_on, tuning, capo, a4_hz, fret, noise_db, level_db, strings (lowest first: string, note, open_cents against a4_hz, fretted_cents against the open note,
/// stiffness, tilt_db_per_octave, partials_db), response (hz, db against the average guitar), advice (sentences).
[[nodiscard]] std::string guitar_json(const GuitarProfile& profile);

}  // namespace gripline
