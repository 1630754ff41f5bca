#include "formats/harmony_kind.h"

#include <algorithm>
#include <limits>

#include "base/text.h"
#include "theory/accidental_text.h"
#include "theory/chord_quality.h"

namespace gripline {

namespace {

struct Row {
    const char* kind;
    const char* suffix;  ///< of the row in the table of chord qualities
};
// kind-value of MusicXML 4.0. Those without a row (Neapolitan, Tristan, pedal, other ...) are read by their text alone.
constexpr Row kKinds[] = {
    {"major", ""}, {"minor", "m"}, {"augmented", "aug"}, {"diminished", "dim"}, {"dominant", "7"}, {"major-seventh", "maj7"}, {"minor-seventh", "m7"},
    {"diminished-seventh", "dim7"}, {"half-diminished", "m7b5"}, {"major-minor", "m(maj7)"}, {"major-sixth", "6"}, {"minor-sixth", "m6"},
    {"dominant-ninth", "9"}, {"major-ninth", "maj9"}, {"minor-ninth", "m9"}, {"dominant-11th", "11"}, {"minor-11th", "m11"},
    {"dominant-13th", "13"}, {"major-13th", "maj13"}, {"minor-13th", "m13"}, {"augmented-seventh", "7#5"}, {"suspended-second", "sus2"}, {"suspended-fourth", "sus4"}, {"power", "5"},
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

std::string harmony_degree_text(const HarmonyDegree& degree) { return degree.type + " " + std::to_string(degree.number) + " altered by " + std::to_string(degree.alteration); }

/// What the degree does to the chord. Added degrees count from a dominant seventh chord (MusicXML 4.0, degree-alter), altered ones from what is there.
std::optional<Error> apply(const HarmonyDegree& degree, std::vector<Interval>& degrees) {
    constexpr int kHighest = 13, kMostAlteration = 2;
    if (degree.number < 1 || degree.number > kHighest || degree.alteration < -kMostAlteration || degree.alteration > kMostAlteration)
        return Error{"degree \"" + harmony_degree_text(degree) + "\" is not read; degrees are 1 to 13, altered by -2 to 2"};
    const auto found = std::find_if(degrees.begin(), degrees.end(), [&](Interval each) { return each.number() == degree.number; });
    if (degree.type == "add") {
        const Interval added = Interval::degree(degree.number, degree.alteration - (degree.number == 7 ? 1 : 0));
        if (std::find(degrees.begin(), degrees.end(), added) == degrees.end()) degrees.push_back(added);
    } else if (degree.type == "subtract") {
        if (found != degrees.end()) degrees.erase(found);
    } else if (degree.type == "alter") {
        if (found != degrees.end()) *found = Interval::degree(degree.number, found->alteration() + degree.alteration);
        else degrees.push_back(Interval::degree(degree.number, degree.alteration - (degree.number == 7 ? 1 : 0)));
    } else {
        return Error{"unknown degree type " + quoted(degree.type) + "; known are add, alter and subtract"};
    }
    return std::nullopt;
}

/// "7" with an added flat ninth: "7b9".
std::string suffix_with(std::string suffix, const std::vector<HarmonyDegree>& degrees) {
    for (const HarmonyDegree& each : degrees) {
        if (each.type == "subtract") suffix += "no" + std::to_string(each.number);
        else suffix += (each.alteration == 0 ? "add" : accidental_text(each.alteration)) + std::to_string(each.number);
    }
    return suffix;
}

bool same_notes(const std::vector<Interval>& a, const std::vector<Interval>& b) { return a.size() == b.size() && std::is_permutation(a.begin(), a.end(), b.begin()); }

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

Result<ChordSymbol> chord_of_harmony(NoteName root, const HarmonyKind& harmony, const std::optional<NoteName>& bass) {
    const auto symbol = [&](const std::string& suffix) { return parse_chart_symbol(root.text() + suffix + (bass ? "/" + bass->text() : "")); };
    const auto row = std::find_if(std::begin(kKinds), std::end(kKinds), [&](const Row& each) { return harmony.kind == each.kind; });
    const auto by_text = symbol(harmony.text);
    if (row == std::end(kKinds)) {
        if (by_text && !harmony.text.empty()) return by_text;
        return Error{"kind " + quoted(harmony.kind) + " is no chord that can be played here" + (harmony.text.empty() ? "" : ", nor is its text " + quoted(harmony.text)) + "; write it as a chord symbol such as C7b9"};
    }
    std::vector<Interval> degrees = degrees_of(*quality_by_suffix(row->suffix));
    for (const HarmonyDegree& each : harmony.degrees)
        if (auto bad = apply(each, degrees)) return *bad;
    if (by_text && same_notes(by_text->degrees, degrees)) return by_text;
    if (const ChordQuality* quality = quality_by_degrees(degrees)) return symbol(std::string(quality->suffix));
    auto composed = symbol(suffix_with(row->suffix, harmony.degrees));
    if (composed && same_notes(composed->degrees, degrees)) return composed;
    std::string list;
    for (const HarmonyDegree& each : harmony.degrees) list += (list.empty() ? "" : ", ") + harmony_degree_text(each);
    return Error{"kind " + quoted(harmony.kind) + " with degrees " + list + " can't be written as a chord symbol; simplify the chord"};
}

}  // namespace gripline
