#include "theory/chord_reading.h"

#include <algorithm>

#include "base/text.h"
#include "theory/accidental_text.h"

namespace gripline::reading {

bool unusable(std::string_view text, Error& error) {
    if (text.empty()) error.message = "the chord symbol is empty; write one as C6, Cm7b5 or C:maj6";
    else if (text.size() > kLongest_bytes) error.message = "the chord symbol " + quoted(text) + " has " + std::to_string(text.size()) + " bytes, at most " + std::to_string(kLongest_bytes) + " are read";
    return !error.message.empty();
}

Result<NoteName> take_root(std::string_view& rest, std::string_view whole) {
    std::size_t length = 1;
    (void)read_accidentals(rest, length);
    auto root = NoteName::parse(rest.substr(0, length));
    if (!root) return Error{"unknown root " + quoted(rest.substr(0, length)) + " in " + quoted(whole) + "; a root is a capital letter A to G with at most two b or #"};
    rest.remove_prefix(length);
    return root;
}

void sort_degrees(std::vector<Interval>& degrees) {
    std::stable_sort(degrees.begin(), degrees.end(), [](Interval a, Interval b) {
        return a.number() != b.number() ? a.number() < b.number() : a.semitones() < b.semitones();
    });
}

void set_bass(ChordSymbol& chord, NoteName bass) {
    if (bass.pitch_class() != chord.root.pitch_class()) chord.bass = bass;
}

}  // namespace gripline::reading
