#include "fretboard/inversions.h"

#include <algorithm>
#include <cmath>
#include <set>

namespace gripline {

namespace {

struct Search {
    const Neck& neck;
    std::vector<GripNote> asked;       // lowest string first
    std::set<PitchClass> wanted;
    std::vector<Grip> found;
};

bool sounds_all(const Search& search, const Grip& grip) {
    std::set<PitchClass> sounded;
    for (const GripNote& note : grip.notes(search.neck.tuning, search.neck.capo)) sounded.insert(note.note.pitch_class());
    return sounded == search.wanted;
}

/// Tries every fret on the string `index`; low and high are the frets used so far, `below` the note on the string before.
void extend(Search& search, Grip& grip, std::size_t index, int low, int high, MidiNote below) {
    if (index == search.asked.size()) {
        if (sounds_all(search, grip)) search.found.push_back(grip);
        return;
    }
    const StringNumber string = search.asked[index].string;
    for (int fret = search.neck.lowest_fret; fret <= search.neck.top_fret(); ++fret) {
        const MidiNote note = search.neck.tuning.open(string).up(search.neck.capo + fret);
        const bool bass_stays = index == 0 && note.pitch_class() == search.asked[0].note.pitch_class();
        if (!search.wanted.contains(note.pitch_class()) || bass_stays || (index > 0 && note <= below)) continue;
        const int new_low = index == 0 ? fret : std::min(low, fret), new_high = index == 0 ? fret : std::max(high, fret);
        if (new_high - new_low > search.neck.max_stretch) continue;
        grip.set(string, Fret(fret));
        extend(search, grip, index + 1, new_low, new_high, note);
    }
}

double hand_fret(const Grip& grip, const Neck& neck) {
    double sum = 0.0;
    const auto notes = grip.notes(neck.tuning, neck.capo);
    for (const GripNote& note : notes) sum += note.fret.number();
    return sum / static_cast<double>(notes.size());
}

}  // namespace

std::vector<Grip> other_basses(const Grip& grip, const Neck& neck) {
    if (grip.strings() != neck.tuning.strings()) return {};
    Search search{neck, grip.notes(neck.tuning, neck.capo), {}, {}};
    if (search.asked.empty()) return {};
    for (const GripNote& note : search.asked) search.wanted.insert(note.note.pitch_class());
    Grip blank(grip.strings());
    extend(search, blank, 0, 0, 0, MidiNote(0));
    const double hand = hand_fret(grip, neck);
    std::stable_sort(search.found.begin(), search.found.end(), [&](const Grip& a, const Grip& b) {
        return std::abs(hand_fret(a, neck) - hand) < std::abs(hand_fret(b, neck) - hand);
    });
    return search.found;
}

}  // namespace gripline
