#include "theory/chord_quality.h"

#include <algorithm>
#include <array>

namespace gripline {

namespace {
constexpr std::string_view kHarte = "Harte et al. 2005, Table 1";
constexpr std::string_view kXml = "MusicXML 4.0, kind-value";
constexpr std::string_view kTrade = "common practice, no source";

constexpr auto kQualities = std::to_array<ChordQuality>({
    {"", "maj", "1 3 5", Serves::major, kHarte},
    {"m", "min", "1 b3 5", Serves::minor, kHarte},
    {"dim", "dim", "1 b3 b5", Serves::diminished, kHarte},
    {"aug", "aug", "1 3 #5", Serves::altered, kHarte},
    {"maj7", "maj7", "1 3 5 7", Serves::major, kHarte},
    {"m7", "min7", "1 b3 5 b7", Serves::minor_seventh, kHarte},
    {"7", "7", "1 3 5 b7", Serves::dominant, kHarte},
    {"dim7", "dim7", "1 b3 b5 bb7", Serves::diminished, kHarte},
    {"m7b5", "hdim7", "1 b3 b5 b7", Serves::half_diminished, kHarte},
    {"m(maj7)", "minmaj7", "1 b3 5 7", Serves::minor, kHarte},
    {"6", "maj6", "1 3 5 6", Serves::major, kHarte},
    {"m6", "min6", "1 b3 5 6", Serves::minor, kHarte},
    {"9", "9", "1 3 5 b7 9", Serves::dominant, kHarte},
    {"maj9", "maj9", "1 3 5 7 9", Serves::major, kHarte},
    {"m9", "min9", "1 b3 5 b7 9", Serves::minor_seventh, kHarte},
    {"sus4", "sus4", "1 4 5", Serves::suspended, kHarte},
    {"sus2", "", "1 2 5", Serves::major, kXml},
    {"5", "", "1 5", Serves::major, kXml},
    {"6/9", "", "1 3 5 6 9", Serves::major, kTrade},
    {"m6/9", "", "1 b3 5 6 9", Serves::minor, kTrade},
    {"add9", "", "1 3 5 9", Serves::major, kTrade},
    {"m(add9)", "", "1 b3 5 9", Serves::minor, kTrade},
    {"maj7#11", "", "1 3 5 7 #11", Serves::major, kTrade},
    {"maj9#11", "", "1 3 5 7 9 #11", Serves::major, kTrade},
    {"maj13", "", "1 3 5 7 9 13", Serves::major, kTrade},  // the eleventh is left out beside a major third
    {"maj7#5", "", "1 3 #5 7", Serves::major, kTrade},
    {"maj7b5", "", "1 3 b5 7", Serves::major, kTrade},
    {"m(maj9)", "", "1 b3 5 7 9", Serves::minor, kTrade},
    {"m11", "", "1 b3 5 b7 9 11", Serves::minor_seventh, kXml},
    {"m13", "", "1 b3 5 b7 9 13", Serves::minor_seventh, kTrade},
    {"11", "", "1 5 b7 9 11", Serves::suspended, kTrade},  // players leave out the third under an eleventh; MusicXML keeps it
    {"13", "", "1 3 5 b7 9 13", Serves::dominant, kTrade},  // the eleventh is left out beside a major third
    {"7sus4", "", "1 4 5 b7", Serves::suspended, kTrade},
    {"9sus4", "", "1 4 5 b7 9", Serves::suspended, kTrade},
    {"13sus4", "", "1 4 5 b7 9 13", Serves::suspended, kTrade},
    {"7b5", "", "1 3 b5 b7", Serves::flat_five, kTrade},
    {"9b5", "", "1 3 b5 b7 9", Serves::flat_five, kTrade},
    {"7#11", "", "1 3 5 b7 #11", Serves::flat_five, kTrade},
    {"9#11", "", "1 3 5 b7 9 #11", Serves::flat_five, kTrade},
    {"13#11", "", "1 3 5 b7 9 #11 13", Serves::flat_five, kTrade},
    {"7#5", "", "1 3 #5 b7", Serves::altered, kXml},  // augmented-seventh
    {"9#5", "", "1 3 #5 b7 9", Serves::altered, kTrade},
    {"7b9", "", "1 3 5 b7 b9", Serves::altered, kTrade},
    {"7#9", "", "1 3 5 b7 #9", Serves::altered, kTrade},
    {"7b13", "", "1 3 5 b7 b13", Serves::altered, kTrade},
    {"13b9", "", "1 3 5 b7 b9 13", Serves::altered, kTrade},
    {"7alt", "", "1 3 b5 #5 b7 b9 #9", Serves::altered, kTrade},
});

// Every suffix above is also a spelling of itself; these are the others. Common practice, no source.
constexpr auto kSpellings = std::to_array<ChordSpelling>({
    {"maj", ""}, {"Maj", ""}, {"ma", ""}, {"M", ""},
    {"min", "m"}, {"mi", "m"}, {"-", "m"}, {"Min", "m"},
    {"o", "dim"}, {"+", "aug"}, {"Dim", "dim"}, {"Aug", "aug"}, {"sus", "sus4"},
    {"maj6", "6"}, {"ma6", "6"}, {"M6", "6"}, {"add6", "6"},
    {"min6", "m6"}, {"mi6", "m6"}, {"-6", "m6"},
    {"69", "6/9"}, {"maj6/9", "6/9"}, {"maj69", "6/9"}, {"M6/9", "6/9"}, {"M69", "6/9"}, {"6add9", "6/9"},
    {"m69", "m6/9"}, {"min6/9", "m6/9"}, {"min69", "m6/9"}, {"-6/9", "m6/9"}, {"-69", "m6/9"}, {"m6add9", "m6/9"},
    {"Maj7", "maj7"}, {"ma7", "maj7"}, {"M7", "maj7"}, {"^", "maj7"}, {"^7", "maj7"}, {"j7", "maj7"},
    {"Maj9", "maj9"}, {"ma9", "maj9"}, {"M9", "maj9"}, {"^9", "maj9"}, {"Maj13", "maj13"}, {"ma13", "maj13"}, {"M13", "maj13"}, {"^13", "maj13"},
    {"+maj7", "maj7#5"}, {"+M7", "maj7#5"}, {"aug^7", "maj7#5"}, {"augmaj7", "maj7#5"},
    {"min7", "m7"}, {"Min7", "m7"}, {"mi7", "m7"}, {"-7", "m7"}, {"min9", "m9"}, {"mi9", "m9"}, {"-9", "m9"},
    {"min11", "m11"}, {"mi11", "m11"}, {"-11", "m11"}, {"min13", "m13"}, {"mi13", "m13"}, {"-13", "m13"},
    {"%", "m7b5"}, {"%7", "m7b5"}, {"h7", "m7b5"},
    {"o7", "dim7"}, {"Dim7", "dim7"},
    {"mmaj7", "m(maj7)"}, {"mM7", "m(maj7)"}, {"mMaj7", "m(maj7)"}, {"mma7", "m(maj7)"}, {"m^7", "m(maj7)"}, {"m^", "m(maj7)"},
    {"minmaj7", "m(maj7)"}, {"minM7", "m(maj7)"}, {"min^7", "m(maj7)"}, {"mi^7", "m(maj7)"}, {"mima7", "m(maj7)"},
    {"-maj7", "m(maj7)"}, {"-M7", "m(maj7)"}, {"-^7", "m(maj7)"}, {"-^", "m(maj7)"}, {"-ma7", "m(maj7)"},
    {"mmaj9", "m(maj9)"}, {"mM9", "m(maj9)"}, {"m^9", "m(maj9)"}, {"-^9", "m(maj9)"},
    {"madd9", "m(add9)"}, {"add2", "add9"},
    {"7sus", "7sus4"}, {"9sus", "9sus4"}, {"13sus", "13sus4"}, {"sus7", "7sus4"},
    {"+7", "7#5"}, {"aug7", "7#5"}, {"7aug", "7#5"}, {"+9", "9#5"},
    {"alt", "7alt"}, {"alt7", "7alt"},
});
}  // namespace

std::span<const ChordQuality> chord_qualities() noexcept { return kQualities; }
std::span<const ChordSpelling> chord_spellings() noexcept { return kSpellings; }

std::vector<Interval> degrees_of(const ChordQuality& quality) {
    std::vector<Interval> out;
    for (std::string_view rest = quality.degrees; !rest.empty();) {
        const auto space = rest.find(' ');
        out.push_back(*Interval::parse(rest.substr(0, space)));
        rest = space == std::string_view::npos ? std::string_view{} : rest.substr(space + 1);
    }
    return out;
}

const ChordQuality* quality_by_suffix(std::string_view suffix) noexcept {
    const auto found = std::find_if(kQualities.begin(), kQualities.end(), [&](const ChordQuality& row) { return row.suffix == suffix; });
    return found == kQualities.end() ? nullptr : &*found;
}

const ChordQuality* quality_by_harte(std::string_view shorthand) noexcept {
    if (shorthand.empty()) return nullptr;
    const auto found = std::find_if(kQualities.begin(), kQualities.end(), [&](const ChordQuality& row) { return row.harte == shorthand; });
    return found == kQualities.end() ? nullptr : &*found;
}

const ChordQuality* quality_by_degrees(std::span<const Interval> degrees) {
    for (const ChordQuality& row : kQualities) {
        auto own = degrees_of(row);
        if (own.size() == degrees.size() && std::is_permutation(own.begin(), own.end(), degrees.begin())) return &row;
    }
    return nullptr;
}

}  // namespace gripline
