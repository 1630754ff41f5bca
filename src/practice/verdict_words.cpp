#include "practice/verdict_words.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "practice/statistics_tally.h"

namespace gripline {
namespace {

constexpr double kAlsoFrom = 0.5;     // more likely than not: told as a second fault (judgement)
constexpr double kTuneFrom_cents = 30.0;  // beyond it the tuning estimate itself nears its end at 50 (judgement)

std::string frets_off(int frets) {
    static const char* const kWords[] = {"no", "one", "two", "three", "four", "five", "six"};
    const int distance = std::abs(frets);
    if (distance > 6) return frets_words(frets);
    return kWords[distance] + std::string(distance == 1 ? " fret " : " frets ") + (frets > 0 ? "sharp" : "flat");
}

std::string string_words(const std::optional<StringNumber>& string, const char* first) {
    return string ? std::string(first) + " " + std::to_string(string->number()) : std::string("One string");
}

std::string extra_words(const Fault& fault, const PracticeStep& step) {
    const std::string note = fault.heard ? ": " + step.name(*fault.heard) + "." : ".";
    if (!fault.string) return "One note too many" + note;
    if (fault.string->number() > step.tuning.strings()) return "One note too many" + note;
    const bool open = fault.heard && *fault.heard == step.tuning.open(*fault.string).up(step.capo);
    return (open ? "Open string " + std::to_string(fault.string->number()) + " rings" : string_words(fault.string, "String") + " sounds too") + note;
}

std::string lower_first(std::string text) {
    if (!text.empty() && text[0] >= 'A' && text[0] <= 'Z') text[0] = static_cast<char>(text[0] - 'A' + 'a');
    return text;
}

}  // namespace

std::string fault_words(const Fault& fault, const PracticeStep& step) {
    switch (fault.kind) {
        case FaultKind::wrong_note: {
            std::string words = string_words(fault.string, "String") + ", " + frets_off(fault.frets);
            if (fault.asked && std::abs(fault.frets) == 12) return words + ": " + step.name(*fault.asked) + ".";
            if (fault.heard && fault.asked) words += ": " + step.name(*fault.heard) + " heard, " + step.name(*fault.asked) + " asked";
            return words + ".";
        }
        case FaultKind::missing_note:
            return string_words(fault.string, "String") + " silent" + (fault.asked ? ": " + step.name(*fault.asked) + " missing." : ".");
        case FaultKind::extra_note: return extra_words(fault, step);
        case FaultKind::wrong_bass:
            return "Other bass: " + (fault.heard ? step.name(*fault.heard) + " heard lowest, " : std::string()) + step.bass + " asked.";
        case FaultKind::shifted: return "The whole grip " + frets_off(fault.frets) + ".";
        case FaultKind::nothing: break;
    }
    return "Something differs; what it is can't be told. Strum once more.";
}

VerdictWords verdict_words(const Verdict& verdict, const PracticeStep& step) {
    VerdictWords words;
    if (verdict.kind == VerdictKind::right) {
        words.headline = "Right.";
    } else if (verdict.kind == VerdictKind::unheard) {
        words.headline = "Not heard clearly.";
        words.details.push_back("Strum all strings of the grip once and let them ring.");
    } else {
        words.headline = "Wrong. " + fault_words(verdict.faults.empty() ? Fault{} : verdict.faults.front(), step);
        for (std::size_t i = 1; i < verdict.faults.size() && words.details.size() < 2; ++i) {
            const Fault& fault = verdict.faults[i];
            if (fault.probability >= kAlsoFrom) words.details.push_back("Also: " + lower_first(fault_words(fault, step)));
            else if (fault.probability >= kFaultToldFrom && fault.kind == FaultKind::nothing) words.details.emplace_back("Or perhaps something else that can't be told.");
            else if (fault.probability >= kFaultToldFrom) words.details.push_back("Or perhaps: " + lower_first(fault_words(fault, step)));
        }
    }
    if (std::abs(verdict.tuning_cents) >= kTuneFrom_cents && verdict.kind != VerdictKind::unheard) {
        const long cents = std::lround(std::abs(verdict.tuning_cents));
        words.details.push_back("The guitar is " + std::to_string(cents) + " cents " + (verdict.tuning_cents > 0 ? "sharp" : "flat") + ": tune it.");
    }
    return words;
}

std::vector<StringHeard> strings_heard(const PracticeStep& step, const std::optional<Verdict>& verdict) {
    const bool judged = verdict && verdict->kind != VerdictKind::unheard;
    const Fault fault = judged && !verdict->faults.empty() ? verdict->faults.front() : Fault{};
    std::vector<MidiNote> heard;
    if (judged && fault.kind == FaultKind::wrong_bass) heard = verdict->heard;
    const std::vector<GripNote> notes = step.notes();
    std::vector<StringHeard> out;
    std::size_t sounding = 0;
    for (int number = step.grip.strings(); number >= 1; --number) {
        StringHeard string{StringNumber(number), step.grip.fret(StringNumber(number)), "", "", true};
        const bool here = fault.string && fault.string->number() == number;
        if (string.fret) {
            const MidiNote asked = notes[sounding].note;
            std::optional<MidiNote> note;
            if (judged) note = asked;
            if (fault.kind == FaultKind::shifted) note = asked.up(fault.frets);
            if (fault.kind == FaultKind::wrong_note && here) note = asked.up(fault.frets);
            if (fault.kind == FaultKind::missing_note && here) note.reset();
            if (fault.kind == FaultKind::wrong_bass) note = heard.size() == notes.size() ? std::optional(heard[sounding]) : std::nullopt;
            ++sounding;
            string.asked = step.name(asked);
            if (note) string.heard = step.name(*note);
            string.as_asked = !judged || (note && *note == asked);
        } else if (judged && fault.kind == FaultKind::extra_note && here) {
            string.heard = fault.heard ? step.name(*fault.heard) : "?";
            string.as_asked = false;
        }
        out.push_back(string);
    }
    return out;
}

}  // namespace gripline
