#include "formats/harmony_kind.h"

#include <algorithm>
#include <limits>

#include "theory/accidental_text.h"
#include "theory/chord_quality.h"

namespace gripline {

namespace {

struct Row {
    const char* kind;
    const char* suffix;  ///< of the row in the table of chord qualities
};
// kind-value of MusicXML 4.0, in the standard's order.
constexpr Row kKinds[] = {
    {"major", ""}, {"minor", "m"}, {"augmented", "aug"}, {"diminished", "dim"}, {"dominant", "7"}, {"major-seventh", "maj7"}, {"minor-seventh", "m7"},
    {"diminished-seventh", "dim7"}, {"half-diminished", "m7b5"}, {"major-minor", "m(maj7)"}, {"major-sixth", "6"}, {"minor-sixth", "m6"},
    {"dominant-ninth", "9"}, {"major-ninth", "maj9"}, {"minor-ninth", "m9"}, {"dominant-11th", "11"}, {"minor-11th", "m11"},
    {"dominant-13th", "13"}, {"major-13th", "maj13"}, {"suspended-second", "sus2"}, {"suspended-fourth", "sus4"}, {"power", "5"},
};

const Interval* with_number(const std::vector<Interval>& degrees, int number) {
    const auto found = std::find_if(degrees.begin(), degrees.end(), [&](Interval each) { return each.number() == number; });
    return found == degrees.end() ? nullptr : &*found;
}

std::vector<HarmonyDegree> difference(const std::vector<Interval>& wanted, const std::vector<Interval>& held) {
    std::vector<HarmonyDegree> out;
    for (const Interval degree : wanted) {
        if (std::find(held.begin(), held.end(), degree) != held.end()) continue;
        const Interval* other = with_number(held, degree.number());
        const bool altered = other && std::find(wanted.begin(), wanted.end(), *other) == wanted.end();
        const int minor_seventh = degree.number() == 7 ? 1 : 0;
        out.push_back({degree.number(), altered ? degree.semitones() - other->semitones() : degree.alteration() + minor_seventh, altered ? "alter" : "add"});
    }
    for (const Interval degree : held)
        if (std::find(wanted.begin(), wanted.end(), degree) == wanted.end() && !with_number(wanted, degree.number())) out.push_back({degree.number(), 0, "subtract"});
    return out;
}

std::string quality_text(const ChordSymbol& chord) {
    std::string text = with_plain_accidentals(chord.text);
    std::size_t at = text.empty() ? 0 : 1;
    read_accidentals(text, at);
    text.erase(0, at);
    return chord.bass ? text.substr(0, text.rfind('/')) : text;
}

}  // namespace

HarmonyKind harmony_kind(const ChordSymbol& chord) {
    HarmonyKind best;
    std::size_t fewest = std::numeric_limits<std::size_t>::max();
    for (const Row& row : kKinds) {
        const ChordQuality* quality = quality_by_suffix(row.suffix);
        if (!quality) continue;
        auto degrees = difference(chord.degrees, degrees_of(*quality));
        if (degrees.size() >= fewest) continue;
        fewest = degrees.size();
        best = {row.kind, {}, std::move(degrees)};
    }
    best.text = quality_text(chord);
    return best;
}

}  // namespace gripline
