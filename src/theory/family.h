// The sixth-diminished families: the four notes of a chord and, between them, the four of the diminished seventh
// a semitone below its root. Harmonised in every other note such a scale gives two chords only, in turn.
#pragma once

#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "theory/spelling.h"

namespace gripline {

/// The four families, and the diminished seventh by itself (four notes, nothing between them).
enum class Family { major_sixth, minor_sixth, dominant_seventh, seventh_flat_five, diminished };

/// The four that have an eight-note scale.
inline constexpr std::array kSixthDiminishedFamilies{Family::major_sixth, Family::minor_sixth, Family::dominant_seventh, Family::seventh_flat_five};

/// "major sixth", "minor sixth", "dominant seventh", "seventh flat five", "diminished".
[[nodiscard]] std::string_view name(Family family) noexcept;
/// Reads a name as above, or its chord suffix: "6", "m6", "7", "7b5", "dim7".
[[nodiscard]] Result<Family> parse_family(std::string_view text);
/// The chord's suffix: "6", "m6", "7", "7b5", "dim7".
[[nodiscard]] std::string_view chord_suffix(Family family) noexcept;

/// Whether a step holds the chord itself or the diminished chord between.
enum class Role { chord, passing };
/// "chord", "passing".
[[nodiscard]] std::string_view word(Role role) noexcept;

/// One step of a harmonised scale.
struct ScaleStep {
    Interval degree;                ///< of the step above the scale's root: "b6"
    NoteName name;                  ///< spelled in the key, without double accidentals
    Role role = Role::chord;
    std::string chord;              ///< "C7", "Bdim7"
    int inversion = 0;              ///< 0: the step is the chord's root, 1: its third, 2: fifth, 3: sixth or seventh
    std::array<NoteName, 4> tones;  ///< the step and the chord tones above it in order: the harmony, every other note
};

/// The harmonised scale from its root up: eight steps (four when `family` is diminished).
[[nodiscard]] std::vector<ScaleStep> harmonised_scale(NoteName root, Family family);

}  // namespace gripline
