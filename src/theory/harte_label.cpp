// Labels of Harte, Sandler, Abdallah & Gomez, ISMIR 2005:
//   chord = root [":" (shorthand ["(" degrees ")"] | "(" degrees ")")] ["/" degree] | "N"
#include <algorithm>

#include "base/text.h"
#include "theory/accidental_text.h"
#include "theory/chord_reading.h"

namespace gripline {

namespace {

constexpr std::string_view kShorthands = "maj min dim aug maj7 min7 7 dim7 hdim7 minmaj7 maj6 min6 9 maj9 min9 sus4";

/// Shorthands that are not in the 2005 table but in common use beside it (from memory): same meaning as the chart suffix.
const ChordQuality* later_shorthand(std::string_view word) {
    for (const auto& [label, suffix] : {std::pair<std::string_view, std::string_view>{"sus2", "sus2"}, {"5", "5"}, {"11", "11"}, {"13", "13"},
                                        {"maj13", "maj13"}, {"min11", "m11"}, {"min13", "m13"}})
        if (word == label) return quality_by_suffix(suffix);
    return nullptr;
}

/// Adds the degrees of a list "3,b7,*5" (a star takes one out).
Result<bool> apply_list(std::string_view list, std::vector<Interval>& degrees, std::string_view whole) {
    while (true) {
        const auto comma = list.find(',');
        std::string_view place = trimmed(list.substr(0, comma));
        const bool out = place.starts_with('*');
        if (out) place.remove_prefix(1);
        const auto degree = Interval::parse(place);
        if (!degree) return Error{degree.error().message + " (in " + quoted(whole) + ")"};
        const auto found = std::find(degrees.begin(), degrees.end(), *degree);
        if (out && found == degrees.end()) return Error{"*" + degree->degree_text() + " in " + quoted(whole) + " takes out a degree that the chord does not hold"};
        if (out) degrees.erase(found);
        else if (found == degrees.end()) degrees.push_back(*degree);
        if (comma == std::string_view::npos) return true;
        list.remove_prefix(comma + 1);
    }
}

/// Reads "shorthand(degrees)", either part may be missing but not both.
Result<std::vector<Interval>> read_quality(std::string_view quality, std::string_view whole) {
    const auto open = quality.find('(');
    const std::string_view word = quality.substr(0, open);
    std::vector<Interval> degrees{Interval()};
    if (!word.empty() || open == std::string_view::npos) {
        const ChordQuality* row = quality_by_harte(word);
        if (!row) row = later_shorthand(word);
        if (!row) return Error{"unknown quality " + quoted(word) + " in " + quoted(whole) + "; shorthands are " + std::string(kShorthands)};
        degrees = degrees_of(*row);
    }
    if (open == std::string_view::npos) return degrees;
    if (!quality.ends_with(')')) return Error{"brackets do not pair in " + quoted(whole) + "; write the degrees as C:maj7(9) or C:(3,5,b7)"};
    const auto applied = apply_list(quality.substr(open + 1, quality.size() - open - 2), degrees, whole);
    if (!applied) return applied.error();
    return degrees;
}

}  // namespace

Result<ChordSymbol> parse_harte_label(std::string_view text) {
    const std::string_view whole = trimmed(text);
    Error error;
    if (reading::unusable(whole, error)) return error;
    if (whole == "N") return Error{"the label \"N\" means no chord: there is nothing to play"};
    const std::string plain = with_plain_accidentals(whole);
    std::string_view rest = plain;
    const auto root = reading::take_root(rest, whole);
    if (!root) return root.error();
    ChordSymbol chord;
    chord.root = *root;
    chord.text = std::string(whole);

    const auto slash = rest.find('/');
    const std::string_view quality = rest.substr(0, slash);
    if (!quality.empty() && quality[0] != ':') return Error{"unknown text " + quoted(quality) + " after the root in " + quoted(whole) + "; a label is written root:quality, as C:maj6"};
    const auto degrees = read_quality(quality.empty() ? "maj" : quality.substr(1), whole);
    if (!degrees) return degrees.error();
    chord.degrees = *degrees;
    reading::sort_degrees(chord.degrees);
    chord.quality = quality_by_degrees(chord.degrees);
    if (slash == std::string_view::npos) return chord;
    const auto bass = Interval::parse(rest.substr(slash + 1));
    if (!bass) return Error{"unknown bass " + quoted(rest.substr(slash + 1)) + " in " + quoted(whole) + "; in a label the bass is a degree, as C:maj/3"};
    reading::set_bass(chord, root->up(*bass));
    return chord;
}

}  // namespace gripline
