// Chart symbols: root, the longest quality that is known, alterations, slash bass.
#include <algorithm>

#include "base/text.h"
#include "theory/accidental_text.h"
#include "theory/chord_reading.h"

namespace gripline {

namespace {

/// Signs of charts in the plain form that the table of spellings uses.
std::string normalised(std::string_view text) {
    std::string out = with_plain_accidentals(text);
    for (const auto& [sign, plain] : {std::pair{"\u0394", "^"}, {"\u2206", "^"}, {"\u25B3", "^"}, {"\u00F8", "%"}, {"\u00D8", "%"}, {"\u2300", "%"},
                                      {"\u00B0", "o"}, {"\u00BA", "o"}, {"\u2212", "-"}, {"\u2013", "-"}, {"\u207A", "+"}})
        out = replaced(std::move(out), sign, plain);
    return out;
}

/// Takes brackets, commas and blanks out of a suffix; false when the brackets do not pair.
bool without_brackets(std::string_view suffix, std::string& out) {
    int depth = 0;
    for (const char c : suffix) {
        if (c == '(') ++depth;
        else if (c == ')') --depth;
        else if (c != ',' || depth == 0) out += c;
        if (depth < 0 || depth > 1) return false;
    }
    return depth == 0;
}

/// The longest spelling or suffix that `written` begins with; `length` is set to its bytes.
const ChordQuality* longest_quality(std::string_view written, std::size_t& length) {
    const ChordQuality* found = quality_by_suffix("");
    length = 0;
    const auto consider = [&](std::string_view spelling, const ChordQuality* row) {
        if (spelling.size() > length && written.starts_with(spelling)) {
            length = spelling.size();
            found = row;
        }
    };
    for (const ChordQuality& row : chord_qualities()) consider(row.suffix, &row);
    for (const ChordSpelling& spelling : chord_spellings()) consider(spelling.written, quality_by_suffix(spelling.suffix));
    return found;
}

bool take(std::string_view& rest, std::string_view word) {
    if (!rest.starts_with(word)) return false;
    rest.remove_prefix(word.size());
    return true;
}

/// One of the numbers that may be altered, added or left out; 0 when there is none.
int take_number(std::string_view& rest, std::string_view allowed) {
    for (const std::string_view number : {"11", "13", "2", "3", "4", "5", "6", "9"}) {
        if (allowed.find(number) != std::string_view::npos && take(rest, number)) return std::stoi(std::string(number));
    }
    return 0;
}

void drop_number(std::vector<Interval>& degrees, int number, int alteration) {
    std::erase_if(degrees, [&](Interval degree) { return degree.number() == number && degree.alteration() == alteration; });
}

/// Applies one alteration from the front of `rest`; false when there is none.
bool take_alteration(std::string_view& rest, std::vector<Interval>& degrees) {
    if (take(rest, "add")) {
        std::size_t at = 0;
        const int alteration = read_accidentals(rest, at);
        rest.remove_prefix(at);
        const int number = take_number(rest, "2 4 6 9 11 13");
        if (number > 0) degrees.push_back(Interval::degree(number == 2 ? 9 : number == 4 ? 11 : number, alteration));
        return number > 0;
    }
    if (take(rest, "no") || take(rest, "omit")) {
        const int number = take_number(rest, "3 5");
        std::erase_if(degrees, [&](Interval degree) { return degree.number() == number; });
        return number > 0;
    }
    if (take(rest, "sus4") || take(rest, "sus")) {
        std::erase_if(degrees, [](Interval degree) { return degree.number() == 3; });
        degrees.push_back(Interval::degree(4));
        return true;
    }
    if (rest.empty() || std::string_view("b#+-").find(rest[0]) == std::string_view::npos) return false;
    const int alteration = rest[0] == 'b' || rest[0] == '-' ? -1 : 1;
    rest.remove_prefix(1);
    const int number = alteration > 0 && rest.empty() ? 5 : take_number(rest, "5 9 11 13");  // "C7+" is C7#5
    if (number == 0) return false;
    drop_number(degrees, number, 0);
    const Interval degree = Interval::degree(number, alteration);
    if (std::find(degrees.begin(), degrees.end(), degree) == degrees.end()) degrees.push_back(degree);
    return true;
}

/// Where the slash of a bass stands in `rest`, or npos. The slash of "6/9" is none.
std::size_t bass_slash(std::string_view rest) {
    const auto slash = rest.rfind('/');
    if (slash == std::string_view::npos) return slash;
    const bool six_nine = slash > 0 && rest[slash - 1] == '6' && rest.substr(slash + 1).starts_with('9');
    return six_nine ? std::string_view::npos : slash;
}

/// A bass is a note, or as in a label a degree of the root: "C/3".
Result<NoteName> read_bass(std::string_view bass, NoteName root, std::string_view whole) {
    if (const auto note = NoteName::parse(bass)) return note;
    if (const auto degree = Interval::parse(bass)) return root.up(*degree);
    return Error{"unknown bass " + quoted(bass) + " in " + quoted(whole) + "; after the slash stands a note, as in C/E"};
}

Error unknown_quality(std::string_view suffix, std::string_view whole) {
    return Error{"unknown quality " + quoted(suffix) + " in " + quoted(whole) +
                 "; known are 6 m6 6/9 7 9 13 maj7 m7 m7b5 dim7 7b5 7#11 7alt m(maj7) and others (b5 #5 b9 #9 #11 b13 add9 sus4)"};
}

}  // namespace

Result<ChordSymbol> parse_chart_symbol(std::string_view text) {
    const std::string_view whole = trimmed(text);
    Error error;
    if (reading::unusable(whole, error)) return error;
    const std::string plain = normalised(whole);
    std::string_view rest = plain;
    const auto root = reading::take_root(rest, whole);
    if (!root) return root.error();
    ChordSymbol chord;
    chord.root = *root;
    chord.text = std::string(whole);

    const auto slash = bass_slash(rest);
    const std::string_view suffix = rest.substr(0, slash);
    std::string written;
    if (!without_brackets(suffix, written)) return Error{"brackets do not pair in " + quoted(whole) + "; write C7(b9) or C7b9"};
    std::size_t length = 0;
    chord.degrees = degrees_of(*longest_quality(written, length));
    for (std::string_view altered = std::string_view(written).substr(length); !altered.empty();)
        if (!take_alteration(altered, chord.degrees)) return unknown_quality(suffix, whole);
    reading::sort_degrees(chord.degrees);
    chord.quality = quality_by_degrees(chord.degrees);
    if (slash == std::string_view::npos) return chord;
    const auto bass = read_bass(rest.substr(slash + 1), *root, whole);
    if (!bass) return bass.error();
    reading::set_bass(chord, *bass);
    return chord;
}

}  // namespace gripline
