#include "chart/chart.h"

#include <algorithm>

#include "base/text.h"
#include "theory/accidental_text.h"

namespace gripline {

namespace {

/// Moves notes from one tonic to another by letter and semitone.
class Transposer {
public:
    Transposer(NoteName from, NoteName to)
        : letters_(((to.letter() - from.letter()) % 7 + 7) % 7), semitones_(from.pitch_class().up_to(to.pitch_class())) {}

    [[nodiscard]] NoteName moved(NoteName note) const {
        const NoteName natural((note.letter() + letters_) % 7, 0);
        const int above = natural.pitch_class().up_to(note.pitch_class().up(semitones_));
        return NoteName(natural.letter(), above > 6 ? above - 12 : above).as_root();
    }

    /// The symbol with its root and slash bass moved, everything between as written.
    [[nodiscard]] ChordSymbol moved(const ChordSymbol& chord) const {
        std::string middle = with_plain_accidentals(chord.text);
        std::size_t at = 1;
        read_accidentals(middle, at);
        middle.erase(0, at);
        if (chord.bass) middle.erase(middle.rfind('/'));
        auto read = parse_chart_symbol(moved(chord.root).text() + middle + (chord.bass ? "/" + moved(*chord.bass).text() : ""));
        return read ? *read : chord;  // a root never makes a symbol unreadable
    }

private:
    int letters_;
    int semitones_;
};

}  // namespace

Result<Key> Key::parse(std::string_view text) {
    const std::string_view asked = trimmed(text);
    const auto blank = asked.find(' ');
    std::string_view note = asked.substr(0, blank);
    const std::string_view mode = blank == std::string_view::npos ? std::string_view{} : trimmed(asked.substr(blank));
    Key key;
    key.minor = mode == "minor";
    if (mode.empty() && note.ends_with('m')) {
        key.minor = true;
        note.remove_suffix(1);
    }
    const auto tonic = NoteName::parse(note);
    if (!tonic || (!mode.empty() && mode != "minor" && mode != "major"))
        return Error{"unknown key " + quoted(text) + "; a key is written as Bb, F# or C minor (Cm)"};
    key.tonic = *tonic;
    return key;
}

Result<ChosenScale> ChosenScale::parse(std::string_view chord) {
    const std::string plain = with_plain_accidentals(trimmed(chord));
    std::size_t at = plain.empty() ? 0 : 1;
    read_accidentals(plain, at);
    const auto root = NoteName::parse(std::string_view(plain).substr(0, at));
    const auto family = parse_family(std::string_view(plain).substr(at));
    if (!root || !family) return Error{"unknown scale " + quoted(chord) + "; a scale is named by its chord: C6, Cm6, C7, C7b5 or Cdim7"};
    return ChosenScale{*root, *family};
}

Chart transposed(const Chart& chart, NoteName tonic) {
    if (!chart.key) return chart;
    const Transposer by(chart.key->tonic, tonic);
    Chart out = chart;
    out.key->tonic = tonic;
    for (Bar& bar : out.bars) {
        for (PlacedChord& chord : bar.chords) {
            if (chord.symbol) chord.symbol = by.moved(*chord.symbol);
            if (chord.scale) chord.scale->root = by.moved(chord.scale->root);
        }
    }
    return out;
}

}  // namespace gripline
