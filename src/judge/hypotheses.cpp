#include "judge/hypotheses.h"

#include <algorithm>

namespace gripline {

namespace {

constexpr int kMostFretsOff = 3;
constexpr int kOctave = 12;
constexpr int kInversionReach = 11;   // frets from the asked grip's place: the next chord tone on the same string lies less than an octave away
constexpr int kInversionStretch = 5;  // frets; wider than comfortable, since it is about what may have been played
constexpr std::size_t kMostInversions = 40;

NoteSet notes_of(const Grip& grip, const Tuning& tuning, int capo) {
    NoteSet out;
    for (const GripNote& note : grip.notes(tuning, capo)) out.insert(note.note.number());
    return out;
}

bool on_the_neck(int midi, const Tuning& tuning) {
    for (int s = 1; s <= tuning.strings(); ++s) {
        const int fret = midi - tuning.open(StringNumber(s)).number();
        if (fret >= 0 && fret <= kMaxFret) return true;
    }
    return false;
}

/// Walks over all ways to fret the grip's strings with the asked pitch classes.
class InversionSearch {
public:
    InversionSearch(const Grip& grip, const Tuning& tuning, int capo)
        : tuning_(tuning), capo_(capo), asked_(notes_of(grip, tuning, capo)), notes_(grip.notes(tuning, capo)), trial_(grip.strings()) {
        int low = kMaxFret, high = 0;
        for (const GripNote& n : notes_) {
            low = std::min(low, n.fret.number());
            high = std::max(high, n.fret.number());
        }
        from_ = std::max(0, low - kInversionReach);
        to_ = std::min(kMaxFret, high + kInversionReach);
    }
    std::vector<NoteSet> run() {
        place(0);
        return std::move(found_);
    }

private:
    void place(std::size_t at) {
        if (found_.size() >= kMostInversions * 4) return;
        if (at == notes_.size()) {
            const NoteSet set = notes_of(trial_, tuning_, capo_);
            if (set.pitch_classes() == asked_.pitch_classes() && set.lowest() % 12 != asked_.lowest() % 12 &&
                std::find(found_.begin(), found_.end(), set) == found_.end())
                found_.push_back(set);
            return;
        }
        const StringNumber string = notes_[at].string;
        for (int fret = from_; fret <= to_; ++fret) {
            const int midi = tuning_.open(string).number() + capo_ + fret;
            if (((asked_.pitch_classes() >> (midi % 12)) & 1U) == 0) continue;
            trial_.set(string, Fret(fret));
            if (trial_.stretch() <= kInversionStretch) place(at + 1);
            trial_.set(string, std::nullopt);
        }
    }
    const Tuning& tuning_;
    int capo_;
    NoteSet asked_;
    std::vector<GripNote> notes_;
    Grip trial_;
    int from_ = 0, to_ = 0;
    std::vector<NoteSet> found_;
};

}  // namespace

void NoteSet::insert(int midi) {
    if (contains(midi) || count_ == static_cast<int>(notes_.size())) return;
    int at = count_++;
    for (; at > 0 && notes_[static_cast<std::size_t>(at - 1)] > midi; --at) notes_[static_cast<std::size_t>(at)] = notes_[static_cast<std::size_t>(at - 1)];
    notes_[static_cast<std::size_t>(at)] = midi;
}

void NoteSet::erase(int midi) {
    const auto end = std::remove(notes_.begin(), notes_.begin() + count_, midi);
    count_ = static_cast<int>(end - notes_.begin());
}

bool NoteSet::contains(int midi) const noexcept {
    const auto all = notes();
    return std::find(all.begin(), all.end(), midi) != all.end();
}

unsigned NoteSet::pitch_classes() const noexcept {
    unsigned set = 0;
    for (const int midi : notes()) set |= 1U << (midi % 12);
    return set;
}

bool NoteSet::sounds_like(const NoteSet& other) const noexcept {
    if (count_ == 0 || other.count_ == 0) return count_ == other.count_;
    return pitch_classes() == other.pitch_classes() && lowest() % 12 == other.lowest() % 12;
}

bool operator==(const NoteSet& a, const NoteSet& b) noexcept { return std::ranges::equal(a.notes(), b.notes()); }

bool hides_behind(int midi, const NoteSet& notes) noexcept {
    return std::ranges::any_of(notes.notes(), [&](int note) { return midi == note + 19 || midi == note + 28 || midi == note + 31; });
}

std::vector<Hypothesis> hypotheses_for(const Grip& grip, const Tuning& tuning, int capo) {
    std::vector<Hypothesis> out;
    const auto strings = grip.notes(tuning, capo);
    const NoteSet asked = notes_of(grip, tuning, capo);
    const auto add = [&](FaultKind kind, int string, int frets, const NoteSet& notes) {
        out.push_back({kind, notes.sounds_like(asked), string, frets, notes});
    };
    out.push_back({std::nullopt, true, 0, 0, asked});
    for (const GripNote& n : strings) {
        for (int frets = -kMostFretsOff; frets <= kMostFretsOff; ++frets) {
            const int fret = n.fret.number() + frets;
            if (frets == 0 || fret < 0 || fret > kMaxFret) continue;
            Grip other(grip);
            other.set(n.string, Fret(fret));
            add(FaultKind::wrong_note, n.string.number(), frets, notes_of(other, tuning, capo));
        }
    }
    if (strings.size() == 1) {
        const GripNote& n = strings.front();
        for (const int frets : {-kOctave, kOctave}) {
            NoteSet notes;
            notes.insert(n.note.number() + frets);
            if (on_the_neck(notes.lowest() - capo, tuning)) out.push_back({FaultKind::wrong_note, false, n.string.number(), frets, notes});
        }
    } else {
        for (const GripNote& n : strings) {
            Grip other(grip);
            other.set(n.string, std::nullopt);
            add(FaultKind::missing_note, n.string.number(), 0, notes_of(other, tuning, capo));
        }
    }
    for (int s = grip.strings(); s >= 1; --s) {
        if (grip.fret(StringNumber(s))) continue;
        if (hides_behind(tuning.open(StringNumber(s)).number() + capo, asked)) continue;
        Grip other(grip);
        other.set(StringNumber(s), Fret(0));
        add(FaultKind::extra_note, s, 0, notes_of(other, tuning, capo));
    }
    for (int frets = -kMostFretsOff; frets <= kMostFretsOff; ++frets) {
        if (frets == 0 || strings.empty()) continue;
        NoteSet notes;
        bool low = false;
        for (const GripNote& n : strings) {
            low = low || n.fret.number() + frets < 0;
            notes.insert(n.note.number() + frets);
        }
        if (!low) add(FaultKind::shifted, 0, frets, notes);
    }
    if (strings.size() > 1) {
        auto inversions = InversionSearch(grip, tuning, capo).run();
        const auto distance = [&](const NoteSet& set) { return std::abs(set.lowest() - asked.lowest()); };
        std::stable_sort(inversions.begin(), inversions.end(), [&](const auto& a, const auto& b) { return distance(a) < distance(b); });
        if (inversions.size() > kMostInversions) inversions.resize(kMostInversions);
        for (const NoteSet& notes : inversions) add(FaultKind::wrong_bass, 0, 0, notes);
    }
    out.push_back({FaultKind::nothing, false, 0, 0, {}});
    return out;
}

}  // namespace gripline
