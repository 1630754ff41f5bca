// The steps of a stage as lines of JSON.
#pragma once

#include <string>

#include "fretboard/stage.h"

namespace gripline {

/// One step of a stage: asked (the chord as typed), scale, family, stage, strings, degree, role, chord, inversion, lead, bass, notes, grip (null when the
/// neck can't hold it), left_out, remark.
[[nodiscard]] std::string step_json(const std::string& asked, const Stage& stage, const Step& step);

}  // namespace gripline
