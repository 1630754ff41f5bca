#include "theory/chord_names.h"

#include <array>

namespace gripline {

NoteName name_in(const ChordSymbol& chord, PitchClass note) {
    constexpr auto d = [](int number, int alteration = 0) { return Interval::degree(number, alteration); };
    constexpr std::array<Interval, 12> kCommonest{d(1), d(2, -1), d(2), d(3, -1), d(3), d(4), d(5, -1), d(5), d(6, -1), d(6), d(7, -1), d(7)};  // by semitones
    for (const NoteName& own : chord.notes())
        if (own.pitch_class() == note) return own.readable();
    if (chord.bass && chord.bass->pitch_class() == note) return *chord.bass;
    return chord.root.up(kCommonest.at(static_cast<std::size_t>(chord.root.pitch_class().up_to(note)))).readable();
}

NoteName approach_root(NoteName target, From from) noexcept {
    const NoteName root = approach_to(target, from);
    const bool odd = root == NoteName(1, 1) || root == NoteName(5, 1);
    return odd ? usual_root(root.pitch_class()) : root;
}

}  // namespace gripline
