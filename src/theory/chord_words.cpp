#include "theory/chord_words.h"

#include <algorithm>
#include <utility>

#include "base/text.h"
#include "theory/accidental_text.h"
#include "theory/chord_names.h"

namespace gripline {

std::string plain_chord_text(std::string_view written) {
    const auto foreign = [](char c) { return static_cast<unsigned char>(c) > 126 || c == '^'; };
    if (std::none_of(written.begin(), written.end(), foreign)) return std::string(written);
    const auto read = parse_chart_symbol(written);
    if (!read) return std::string(written);
    if (read->quality) return read->chart_text();
    std::string out = with_plain_accidentals(written);  // an unusual chord: sign by sign
    for (const auto& [sign, plain] : {std::pair{"\u0394", "^"}, {"\u2206", "^"}, {"\u25B3", "^"}, {"^7", "maj7"}, {"^", "maj7"}, {"\u00F87", "m7b5"}, {"\u00F8", "m7b5"}, {"\u00D8", "m7b5"},
                                      {"\u00B0", "dim"}, {"\u00BA", "dim"}, {"\u2212", "-"}, {"\u2013", "-"}, {"\u207A", "+"}})
        out = replaced(std::move(out), sign, plain);
    return out;
}

std::string text_on(const ChordSymbol& chord, NoteName root) {
    std::string middle = with_plain_accidentals(chord.text);
    std::size_t at = 1;
    read_accidentals(middle, at);
    middle.erase(0, at);
    const auto slash = middle.rfind('/');
    const bool six_nine = slash != std::string::npos && slash > 0 && middle[slash - 1] == '6' && middle.substr(slash + 1).starts_with('9');
    return root.text() + (six_nine ? middle : middle.substr(0, slash));
}

NoteName spelled_bass(const ChordSymbol& chord, PitchClass note) {
    const NoteName name = name_in(chord, note);
    const bool diminished = chord.quality != nullptr && chord.quality->serves == Serves::diminished;
    return diminished && note != chord.root.pitch_class() ? name.as_root() : name;
}

std::string played_chord(const Serving& scale) { return scale.root.text() + std::string(chord_suffix(scale.family)); }

}  // namespace gripline
