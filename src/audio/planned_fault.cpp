// Strums planned from grips, rightly or with a mistake on purpose: the second half of strum.h.
#include <algorithm>
#include <cstdlib>
#include <vector>

#include "audio/noise.h"
#include "audio/strum.h"

namespace gripline {
namespace {

/// An open string that rings by accident is softer than the strummed ones: 5 to 13 dB, the middle taken.
constexpr double kOpenString_db = -7.0;

std::string plural_frets(int frets) {
    static const char* const kWords[] = {"no", "one", "two", "three", "four", "five"};
    const int size = std::abs(frets);
    return (size <= 5 ? kWords[size] : std::to_string(size)) + (size == 1 ? std::string(" fret ") : std::string(" frets "));
}

std::string on_string(StringNumber string) { return "string " + std::to_string(string.number()); }

/// The grip with a wrong note or the whole shape moved; error when it leaves the neck.
Result<Grip> misfretted(const Grip& grip, const PlannedFault& fault) {
    if (fault.kind == PlannedFaultKind::shifted) return grip.slid(fault.frets);
    Grip wrong = grip;
    const int fret = grip.fret(fault.string)->number() + fault.frets;
    if (fret < 0 || fret > kMaxFret)
        return Error{on_string(fault.string) + ": fret " + std::to_string(fret) + " is off the neck (0 to " + std::to_string(kMaxFret) + ")"};
    wrong.set(fault.string, Fret(fret));
    return wrong;
}

/// Whether the grip and the fault fit together at all.
std::optional<Error> misfit(const Grip& grip, const Tuning& tuning, const std::optional<PlannedFault>& fault) {
    if (grip.strings() != tuning.strings())
        return Error{"grip " + grip.text() + " is for " + std::to_string(grip.strings()) + " strings, the tuning has " + std::to_string(tuning.strings())};
    if (grip.notes(tuning).empty()) return Error{"grip " + grip.text() + " sounds no string"};
    if (!fault || fault->kind == PlannedFaultKind::shifted || fault->kind == PlannedFaultKind::dead_strum) return std::nullopt;
    if (fault->string.number() < 1 || fault->string.number() > grip.strings())
        return Error{"there is no " + on_string(fault->string) + " (1 to " + std::to_string(grip.strings()) + ")"};
    const bool held = grip.fret(fault->string).has_value();
    if (fault->kind == PlannedFaultKind::open_string && held) return Error{on_string(fault->string) + " is in grip " + grip.text() + " already"};
    if (fault->kind != PlannedFaultKind::open_string && !held) return Error{on_string(fault->string) + " is muted in grip " + grip.text()};
    return std::nullopt;
}

Strum strum_of(const std::vector<GripNote>& notes) {
    Strum strum;
    for (const GripNote& note : notes) strum.struck[static_cast<std::size_t>(strum.count++)] = {note.string, note.note, 0.0, false};
    return strum;
}

std::vector<int> pitch_classes_and_bass(const std::vector<GripNote>& notes) {
    std::vector<int> classes;
    MidiNote lowest(127);
    for (const GripNote& note : notes) {
        classes.push_back(note.note.pitch_class().value());
        lowest = std::min(lowest, note.note);
    }
    std::sort(classes.begin(), classes.end());
    classes.erase(std::unique(classes.begin(), classes.end()), classes.end());
    classes.push_back(lowest.pitch_class().value());
    return classes;
}

/// Semitones of partials 1 to 8 above their fundamental, rounded (harmonic series).
constexpr int kPartialSemitones[] = {0, 12, 19, 24, 28, 31, 34, 36};

bool hidden_by_partials(MidiNote open, const std::vector<GripNote>& notes) {
    return std::any_of(notes.begin(), notes.end(), [open](const GripNote& note) {
        const int above = open.number() - note.note.number();
        return std::find(std::begin(kPartialSemitones), std::end(kPartialSemitones), above) != std::end(kPartialSemitones);
    });
}

/// Every mistake of one kind that can be played on the grip and heard.
std::vector<PlannedFault> audible(PlannedFaultKind kind, const Grip& grip, const Tuning& tuning, int capo) {
    const auto notes = grip.notes(tuning, capo);
    const auto right = pitch_classes_and_bass(notes);
    std::vector<PlannedFault> faults;
    const auto consider = [&](const PlannedFault& fault) {
        const auto strum = plan_strum(grip, tuning, capo, fault);
        if (!strum) return;
        std::vector<GripNote> played;
        for (int i = 0; i < strum->count; ++i) played.push_back({strum->struck[static_cast<std::size_t>(i)].string, Fret(0), strum->struck[static_cast<std::size_t>(i)].note});
        if (!played.empty() && pitch_classes_and_bass(played) != right) faults.push_back(fault);
    };
    if (kind == PlannedFaultKind::shifted)
        for (const int frets : {-1, 1}) consider({kind, StringNumber(1), frets});
    else
        for (int number = 1; number <= grip.strings(); ++number) {
            const StringNumber string(number);
            if (kind == PlannedFaultKind::wrong_note)
                for (const int frets : {-1, 1}) consider({kind, string, frets});
            else if (kind != PlannedFaultKind::open_string || !hidden_by_partials(tuning.open(string).up(capo), notes)) consider({kind, string, 0});
        }
    return faults;
}

}  // namespace

std::string describe(const PlannedFault& fault) {
    switch (fault.kind) {
        case PlannedFaultKind::wrong_note: return on_string(fault.string) + " " + plural_frets(fault.frets) + (fault.frets < 0 ? "flat" : "sharp");
        case PlannedFaultKind::missing_string: return on_string(fault.string) + " missing";
        case PlannedFaultKind::open_string: return "open " + on_string(fault.string) + " ringing";
        case PlannedFaultKind::shifted: return "the whole grip " + plural_frets(fault.frets) + (fault.frets < 0 ? "too low" : "too high");
        case PlannedFaultKind::dead_strum: return "all strings dead";
    }
    return {};
}

Result<Strum> plan_strum(const Grip& grip, const Tuning& tuning, int capo, const std::optional<PlannedFault>& fault) {
    if (const auto error = misfit(grip, tuning, fault)) return *error;
    if (!fault) return strum_of(grip.notes(tuning, capo));
    if (fault->kind == PlannedFaultKind::wrong_note || fault->kind == PlannedFaultKind::shifted) {
        const auto wrong = misfretted(grip, *fault);
        if (!wrong) return wrong.error();
        return strum_of(wrong->notes(tuning, capo));
    }
    Grip played = grip;
    if (fault->kind == PlannedFaultKind::missing_string) played.set(fault->string, std::nullopt);
    if (fault->kind == PlannedFaultKind::open_string) played.set(fault->string, Fret(0));
    Strum strum = strum_of(played.notes(tuning, capo));
    for (StruckString& struck : strum.struck) {
        struck.dead = fault->kind == PlannedFaultKind::dead_strum;
        if (fault->kind == PlannedFaultKind::open_string && struck.string == fault->string) struck.level_db = kOpenString_db;
    }
    return strum;
}

std::optional<PlannedFault> likely_mistake(const Grip& grip, const Tuning& tuning, int capo, std::uint32_t seed) {
    // The order is common practice; the shares are ours.
    struct Share {
        PlannedFaultKind kind;
        double share;
    };
    static constexpr Share kShares[] = {{PlannedFaultKind::open_string, 0.45}, {PlannedFaultKind::wrong_note, 0.3}, {PlannedFaultKind::shifted, 0.15}, {PlannedFaultKind::missing_string, 0.1}};
    Noise chance(seed);
    double draw = chance.share();
    std::vector<PlannedFault> fallback;
    for (const Share& share : kShares) {
        const auto faults = audible(share.kind, grip, tuning, capo);
        if (!faults.empty() && draw < share.share) return faults[chance.bits() % faults.size()];
        draw -= share.share;
        fallback.insert(fallback.end(), faults.begin(), faults.end());
    }
    if (fallback.empty()) return std::nullopt;
    return fallback[chance.bits() % fallback.size()];
}

}  // namespace gripline
