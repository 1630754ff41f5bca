#include "theory/serving.h"

#include <algorithm>

namespace gripline {

namespace {

bool holds(const ChordSymbol& chord, int number, int alteration) {
    const Interval wanted = Interval::degree(number, alteration);
    return std::find(chord.degrees.begin(), chord.degrees.end(), wanted) != chord.degrees.end();
}

/// For a chord that is in no row of the table: by its third, fifth and seventh.
Serves by_degrees(const ChordSymbol& chord) {
    const bool minor = holds(chord, 3, -1), major = holds(chord, 3, 0), flat_seven = holds(chord, 7, -1);
    if (minor && !major) {
        if (holds(chord, 5, -1)) return flat_seven ? Serves::half_diminished : Serves::diminished;
        return flat_seven ? Serves::minor_seventh : Serves::minor;
    }
    const bool suspended = !major && holds(chord, 4, 0) && !holds(chord, 7, 0);  // a major third would sound beside its fourth
    if (!flat_seven) return suspended ? Serves::suspended : Serves::major;
    if (holds(chord, 9, -1) || holds(chord, 9, 1) || holds(chord, 13, -1) || holds(chord, 5, 1)) return Serves::altered;
    if (holds(chord, 5, -1) || holds(chord, 11, 1)) return Serves::flat_five;
    return suspended ? Serves::suspended : Serves::dominant;
}

struct Choice {
    Interval above;
    Family family;
    const char* reason;
};
constexpr Interval kUnison = Interval::degree(1), kSemitone = Interval::degree(2, -1), kMinorThird = Interval::degree(3, -1),
                   kFifth = Interval::degree(5), kFlatSeventh = Interval::degree(7, -1);

std::vector<Choice> choices(Serves serves) {
    switch (serves) {
        case Serves::major: return {{kUnison, Family::major_sixth, "on the root"}};
        case Serves::minor: return {{kUnison, Family::minor_sixth, "on the root"}};
        case Serves::minor_seventh: return {{kMinorThird, Family::major_sixth, "on its minor third"}, {kUnison, Family::minor_sixth, "on the root, as a tonic minor"}};
        case Serves::half_diminished: return {{kMinorThird, Family::minor_sixth, "on its minor third"}};
        case Serves::dominant: return {{kUnison, Family::dominant_seventh, "on the root"}, {kFifth, Family::minor_sixth, "on its fifth"},
                                       {kUnison, Family::seventh_flat_five, "on the root"}, {kSemitone, Family::minor_sixth, "a semitone above the root, altered"}};
        case Serves::flat_five: return {{kUnison, Family::seventh_flat_five, "on the root"}, {kUnison, Family::dominant_seventh, "on the root"}, {kFifth, Family::minor_sixth, "on its fifth"}};
        case Serves::altered: return {{kSemitone, Family::minor_sixth, "a semitone above the root"}, {kUnison, Family::seventh_flat_five, "on the root"}, {kUnison, Family::dominant_seventh, "on the root"}};
        case Serves::suspended: return {{kFlatSeventh, Family::major_sixth, "on its flat seventh"}, {kUnison, Family::dominant_seventh, "on the root"}};
        case Serves::diminished: break;
    }
    return {{kUnison, Family::diminished, "seventh, the chord itself"}};
}

}  // namespace

std::vector<Serving> servings(const ChordSymbol& chord) {
    const Serves serves = chord.quality ? chord.quality->serves : by_degrees(chord);
    std::vector<Serving> out;
    for (const Choice& choice : choices(serves)) {
        const NoteName root = choice.above == kUnison ? chord.root : chord.root.up(choice.above).as_root();
        std::string reason = std::string(name(choice.family)) + " " + choice.reason;
        const bool same_notes = serves == Serves::minor_seventh || serves == Serves::half_diminished;
        if (same_notes && choice.above == kMinorThird)
            reason += " (" + chord.root.text() + (serves == Serves::minor_seventh ? "m7" : "m7b5") + " holds the notes of " + root.text() + std::string(chord_suffix(choice.family)) + ")";
        out.push_back({root, choice.family, std::move(reason)});
    }
    return out;
}

}  // namespace gripline
