// The shells of a scale everywhere on the neck, and how the bass walks between them.
#pragma once

#include "lines/candidate.h"
#include "lines/line_settings.h"

namespace gripline {

/// A candidate for `grip` whose notes are named after `tones`; sounds, chord, step and set are the caller's.
[[nodiscard]] Candidate candidate_for(const Grip& grip, const std::array<NoteName, 4>& tones, const Neck& neck);

/// Every shell of the scale on the wanted string sets, with its moves. An error when a string set does not fit the tuning. May be empty.
[[nodiscard]] Result<Choices> scale_grips(NoteName root, Family family, const LineSettings& settings);

/// How one scale step leads to another: by step, by a third between two grips of the chord itself (the strong beats of odd bars need it),
/// or by either and an octave the other way where the wanted part of the neck ends.
[[nodiscard]] Move move_between(const Choices& choices, int from, int to, const LineSettings& settings);

}  // namespace gripline
