#include "judge/known_guitar.h"

#include <algorithm>
#include <cmath>

namespace gripline {

namespace {

constexpr double kFurthest = 1.7;         // times the set-up's fret: the 12th at the 7th
constexpr double kLeastStiffness = 5e-6;  // a fit in noise may say 0
constexpr int kElsewhere = 20;            // frets: a string that is not asked, fretted

double between(double a, double b, double part) { return a + part * (b - a); }

}  // namespace

double KnownGuitar::whole_cents() const {
    std::vector<double> cents;
    for (const KnownString& s : strings) {
        cents.push_back(s.open.cents);
        cents.push_back(s.fretted.cents);
    }
    if (cents.empty()) return 0.0;
    std::sort(cents.begin(), cents.end());
    return 0.5 * (cents[cents.size() / 2] + cents[(cents.size() - 1) / 2]);
}

dsp::ExpectedNote KnownGuitar::expected(std::size_t at, int at_fret) const {
    const auto& [open, fretted] = strings[at];
    const double part = std::min(static_cast<double>(at_fret) / fret, kFurthest);
    const auto log_stiffness = [](const dsp::ExpectedNote& note) { return std::log(std::max(note.stiffness, kLeastStiffness)); };
    return {between(open.cents, fretted.cents, part) - whole_cents(), std::exp(between(log_stiffness(open), log_stiffness(fretted), part))};
}

dsp::ExpectedNotes expected_notes(const KnownGuitar& guitar, const Target& target) {
    dsp::ExpectedNotes out;
    const int strings = guitar.tuning.strings();
    if (!target.grip || !(target.tuning == guitar.tuning) || guitar.strings.size() != static_cast<std::size_t>(strings)) return out;
    const int open_fret = target.capo - guitar.capo;
    for (int midi = dsp::NoteBank::kLowest; midi <= dsp::NoteBank::kHighest; ++midi) {
        int least_apart = 1000;
        for (int i = 0; i < strings; ++i) {
            const StringNumber string(strings - i);
            const int fret = midi - guitar.tuning.open(string).number() - guitar.capo;
            if (fret < 0 || fret > kMaxFret) continue;
            // An open string that is not asked rings by itself; a fretted one strays from its fret; others sound only when a whole grip is elsewhere.
            const auto asked = target.grip->fret(string);
            const int apart = asked ? std::abs(asked->number() + open_fret - fret) : fret == open_fret ? 0 : kElsewhere + fret;
            if (apart >= least_apart) continue;
            least_apart = apart;
            out.notes[static_cast<std::size_t>(midi - dsp::NoteBank::kLowest)] = guitar.expected(static_cast<std::size_t>(i), fret);
        }
    }
    return out;
}

}  // namespace gripline
