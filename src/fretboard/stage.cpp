#include "fretboard/stage.h"

#include <utility>

namespace gripline {

namespace {

/// A place for a step: the grip when it fits, else why not.
struct Place {
    std::optional<Grip> grip;
    std::string reason;
};

/// What each string of a set sounds: which tone of the step's harmony (0 the leading note, 1 the chord tone above it ...) and how many
/// octaves that tone lies above its first one above the leading note. Lowest string first.
struct Voice {
    std::size_t tone;
    int octaves;
};
std::vector<Voice> voices(StageKind kind) {
    switch (kind) {
        case StageKind::scale: return {{0, 0}};
        case StageKind::drop2: return {{3, -2}, {1, -1}, {2, -1}, {0, 0}};  // below the melody: the close chord, its second voice dropped
        case StageKind::drop3: return {{0, 0}, {3, 0}, {1, 1}, {2, 1}};     // bass, tone next below it, next above, the one after
        case StageKind::shell: break;
    }
    return {{0, 0}, {3, 0}, {1, 1}};
}
std::size_t leading_voice(StageKind kind) { return kind == StageKind::drop2 ? 3 : 0; }

std::string at_fret(StringNumber string, int fret) { return "string " + std::to_string(string.number()) + " would lie at fret " + std::to_string(fret); }

/// The step's grip with its leading note at `lead_fret`.
Place place_at(const ScaleStep& step, StageKind kind, const StringSet& set, const Neck& neck, int lead_fret) {
    const auto voicing = voices(kind);
    const auto& strings = set.strings();
    const MidiNote lead = neck.tuning.open(strings[leading_voice(kind)]).up(neck.capo + lead_fret);
    Grip grip(neck.tuning.strings());
    for (std::size_t i = 0; i < strings.size(); ++i) {
        const int above = step.name.pitch_class().up_to(step.tones.at(voicing[i].tone).pitch_class()) + 12 * voicing[i].octaves;
        const int fret = lead.up(above).number() - neck.tuning.open(strings[i]).number() - neck.capo;
        if (fret < 0) return {std::nullopt, at_fret(strings[i], fret) + (neck.capo > 0 ? ", below the capo" : ", below the nut")};
        if (fret < neck.lowest_fret) return {std::nullopt, at_fret(strings[i], fret) + ", below the lowest fret in use (" + std::to_string(neck.lowest_fret) + ")"};
        if (fret > neck.top_fret()) return {std::nullopt, at_fret(strings[i], fret) + ", past the last fret in use (" + std::to_string(neck.top_fret()) + ")"};
        grip.set(strings[i], Fret(fret));
    }
    if (grip.stretch() > neck.max_stretch)
        return {std::nullopt, "the grip " + grip.text() + " stretches over " + std::to_string(grip.stretch()) + " frets, at most " + std::to_string(neck.max_stretch)};
    return {grip, {}};
}

/// Fills grip, places, remark and left_out: the lowest octave that fits, or (scale) the one at or above `wanted_fret`.
void settle(Step& out, const ScaleStep& step, StageKind kind, const StringSet& set, const Neck& neck, int wanted_fret) {
    const StringNumber string = set.strings()[leading_voice(kind)];
    const int first = neck.tuning.open(string).up(neck.capo).pitch_class().up_to(step.name.pitch_class());
    std::string reasons;
    std::string first_reason;
    for (int fret = first; fret < neck.top_fret() + 12 || fret == first; fret += 12) {  // one past the end, for its reason
        Place place = place_at(step, kind, set, neck, fret);
        if (place.grip) {
            out.places.push_back(*place.grip);
            if (!out.grip && fret >= wanted_fret) {
                out.grip = place.grip;
                if (!reasons.empty() && kind != StageKind::scale) out.remark = "an octave higher: " + first_reason;
            }
            continue;
        }
        if (reasons.empty()) first_reason = place.reason;
        reasons += (reasons.empty() ? "" : "; an octave higher ") + place.reason;
    }
    if (!out.grip && !out.places.empty()) {  // a scale note past the end of the neck
        out.grip = out.places.back();
        out.remark = "an octave lower: " + place_at(step, kind, set, neck, first + 12 * ((wanted_fret - first + 11) / 12)).reason;
    }
    if (!out.grip) out.left_out = reasons;
}

std::vector<SpelledNote> spelled_notes(const Grip& grip, const ScaleStep& step, StageKind kind, const Neck& neck) {
    const auto voicing = voices(kind);
    std::vector<SpelledNote> out;
    std::size_t voice = 0;
    for (const GripNote& each : grip.notes(neck.tuning, neck.capo)) out.push_back(spelled(each.note, step.tones.at(voicing[voice++].tone)));
    return out;
}

}  // namespace

Result<Neck> checked(const Neck& neck) {
    const auto outside = [](const char* what, int value, int low, int high) {
        return Error{std::string(what) + " " + std::to_string(value) + " is out of range; it may be " + std::to_string(low) + " to " + std::to_string(high)};
    };
    if (neck.capo < 0 || neck.capo > 12) return outside("capo fret", neck.capo, 0, 12);
    if (neck.last_fret < 12 || neck.last_fret > kMaxFret) return outside("last fret", neck.last_fret, 12, kMaxFret);
    if (neck.highest_fret < 0 || neck.highest_fret > kMaxFret) return outside("highest fret in use", neck.highest_fret, 0, kMaxFret);
    if (neck.lowest_fret < 0 || neck.lowest_fret > neck.top_fret()) return outside("lowest fret in use", neck.lowest_fret, 0, neck.top_fret());
    if (neck.max_stretch < 1 || neck.max_stretch > 6) return outside("largest stretch", neck.max_stretch, 1, 6);
    return neck;
}

Result<Stage> build_stage(NoteName root, Family family, StageKind kind, const StringSet& strings, const Neck& neck) {
    if (const auto good = checked(neck); !good) return good.error();
    if (const auto good = checked(strings, kind, neck.tuning.strings()); !good) return good.error();
    Stage stage{root, family, kind, strings, {}};
    int wanted_fret = neck.lowest_fret;
    for (const ScaleStep& step : harmonised_scale(root, family)) {
        Step out;
        out.degree = step.degree;
        out.role = step.role;
        out.chord = step.chord;
        out.inversion = step.inversion;
        out.lead = step.name;
        settle(out, step, kind, strings, neck, kind == StageKind::scale ? wanted_fret : 0);
        if (kind == StageKind::scale && out.grip && out.remark.empty()) wanted_fret = out.grip->fret(strings.lowest())->number();
        if (out.grip) out.notes = spelled_notes(*out.grip, step, kind, neck);
        stage.steps.push_back(std::move(out));
    }
    return stage;
}

std::string Stage::title() const {
    return root.text() + " " + std::string(gripline::name(family)) + ", " + std::string(gripline::name(kind)) +
           (strings.strings().size() == 1 ? " on string " : " on strings ") + strings.text();
}

Result<Grip> approach_grip(const Grip& target, From from, const Neck& neck) {
    auto slid = target.slid(from == From::below ? -1 : 1);
    const std::string what = "the approach from " + std::string(from == From::below ? "below" : "above") + " to " + target.text();
    if (!slid) return Error{what + " leaves the neck below fret 0"};
    for (const GripNote& note : slid->notes(neck.tuning, neck.capo))
        if (note.fret.number() > neck.top_fret()) return Error{what + " leaves the neck past fret " + std::to_string(neck.top_fret())};
    return slid;
}

}  // namespace gripline
