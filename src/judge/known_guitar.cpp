#include "judge/known_guitar.h"

#include <algorithm>
#include <cmath>

namespace gripline {

namespace {

constexpr double kFurthest = 1.7;  // times the set-up's fret: the 12th at the 7th
constexpr double kLeastStiffness = 5e-6;

template <class Number>
Number between(Number a, Number b, double part) { return a + static_cast<Number>(part) * (b - a); }

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

dsp::NoteVoice KnownGuitar::expected(std::size_t at, int at_fret) const {
    const auto& [open, fretted] = strings[at];
    const double part = std::min(static_cast<double>(at_fret) / fret, kFurthest);
    dsp::NoteVoice out;
    out.midi = open.midi + at_fret;
    out.cents = between(open.cents, fretted.cents, part) - whole_cents();
    out.stiffness = std::exp(between(std::log(std::max(open.stiffness, kLeastStiffness)), std::log(std::max(fretted.stiffness, kLeastStiffness)), part));
    for (std::size_t i = 0; i < out.partial_db.size(); ++i) {
        const float a = open.partial_db[i], b = fretted.partial_db[i];
        const bool has_a = a > dsp::kNoPartial_db, has_b = b > dsp::kNoPartial_db;
        out.partial_db[i] = has_a && has_b ? std::clamp(between(a, b, part), dsp::kNoPartial_db, 0.0F) : std::max(a, b);
    }
    return out;
}

ExpectedNotes::ExpectedNotes(const KnownGuitar& guitar, const Target& target) {
    if (!target.grip || !(target.tuning == guitar.tuning) || guitar.strings.size() != static_cast<std::size_t>(guitar.tuning.strings())) return;
    const int strings = guitar.tuning.strings();
    for (int midi = dsp::NoteBank::kLowest; midi <= dsp::NoteBank::kHighest; ++midi) {
        int best_apart = 100, best = -1, best_fret = 0;
        for (int i = 0; i < strings; ++i) {
            const StringNumber string(strings - i);
            const int fret = midi - guitar.strings[static_cast<std::size_t>(i)].open.midi;
            if (fret < 0 || fret > kMaxFret) continue;
            const auto asked = target.grip->fret(string);
            // An open string that is not asked rings by itself; a fretted one strays from its fret; others only when a whole grip is elsewhere.
            const int apart = asked ? std::abs(asked->number() + target.capo - fret) : fret == 0 ? 0 : 20 + fret;
            if (apart >= best_apart) continue;
            best_apart = apart;
            best = i;
            best_fret = fret;
        }
        if (best >= 0) notes_[static_cast<std::size_t>(midi - dsp::NoteBank::kLowest)] = guitar.expected(static_cast<std::size_t>(best), best_fret);
    }
}

const dsp::NoteVoice* ExpectedNotes::of(int midi) const noexcept {
    if (midi < dsp::NoteBank::kLowest || midi > dsp::NoteBank::kHighest) return nullptr;
    const auto& note = notes_[static_cast<std::size_t>(midi - dsp::NoteBank::kLowest)];
    return note ? &*note : nullptr;
}

}  // namespace gripline
