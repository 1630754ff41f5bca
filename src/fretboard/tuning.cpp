#include <algorithm>
#include <array>
#include <cctype>

#include "base/text.h"
#include "fretboard/grip.h"
#include "theory/spelling.h"

namespace gripline {

namespace {

struct Named {
    std::string_view name;
    std::string_view notes;
};
// Common practice; the standard notes are E2 A2 D3 G3 B3 E4 = MIDI 40 45 50 55 59 64.
constexpr std::array<Named, 6> kNamed{{
    {"standard", "E2 A2 D3 G3 B3 E4"},
    {"semitone down", "Eb2 Ab2 Db3 Gb3 Bb3 Eb4"},
    {"tone down", "D2 G2 C3 F3 A3 D4"},
    {"drop D", "D2 A2 D3 G3 B3 E4"},
    {"seven string B", "B1 E2 A2 D3 G3 B3 E4"},
    {"seven string A", "A1 E2 A2 D3 G3 B3 E4"},
}};
constexpr MidiNote kLowestOpen(24);   // C1: below the low A of a seven-string (A1) and of a bass (E1)
constexpr MidiNote kHighestOpen(88);  // E6: two octaves above string 1

std::string lower(std::string_view text) {
    std::string out(text);
    std::transform(out.begin(), out.end(), out.begin(), [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return out;
}

Result<Tuning> read_notes(std::string_view text) {
    const std::string whole = "tuning " + quoted(text);
    std::vector<MidiNote> notes;
    for (std::size_t at = 0; at < text.size();) {
        const auto end = std::min(text.find_first_of(" ,\t", at), text.size());
        const std::string_view word = text.substr(at, end - at);
        at = end + 1;
        if (word.empty()) continue;
        const std::string place = whole + ", note " + std::to_string(notes.size() + 1);
        const auto note = SpelledNote::parse(word);
        if (!note) return Error{place + ": unknown " + quoted(word) + "; write a note with its octave as E2, lowest string first, or a name: " + "standard, semitone down, tone down, drop D, seven string B, seven string A"};
        if (note->midi() < kLowestOpen || note->midi() > kHighestOpen) return Error{place + ": " + note->text() + " is out of range; an open string may be C1 to E6"};
        if (!notes.empty() && note->midi() <= notes.back()) return Error{place + ": " + note->text() + " is not above the string before it; write the lowest string first"};
        notes.push_back(note->midi());
    }
    const auto count = static_cast<int>(notes.size());
    if (count < kMinStrings || count > kMaxStrings) return Error{whole + " has " + std::to_string(count) + " notes; " + std::to_string(kMinStrings) + " to " + std::to_string(kMaxStrings) + " strings are allowed"};
    return Tuning(std::move(notes));
}

}  // namespace

std::vector<std::string> tuning_names() {
    std::vector<std::string> out;
    for (const Named& named : kNamed) out.emplace_back(named.name);
    return out;
}

Tuning::Tuning() : low_to_high_{MidiNote(40), MidiNote(45), MidiNote(50), MidiNote(55), MidiNote(59), MidiNote(64)} {}
Tuning::Tuning(std::vector<MidiNote> low_to_high) : low_to_high_(std::move(low_to_high)) {}

Result<Tuning> Tuning::parse(std::string_view text) {
    const std::string_view asked = trimmed(text);
    if (asked.empty()) return Error{"the tuning is empty; write open notes as E2 A2 D3 G3 B3 E4, or standard"};
    for (const Named& named : kNamed)
        if (lower(asked) == lower(named.name)) return read_notes(named.notes);
    return read_notes(asked);
}

MidiNote Tuning::open(StringNumber string) const { return low_to_high_.at(static_cast<std::size_t>(strings() - string.number())); }

std::string Tuning::text() const {
    std::string out;
    for (const MidiNote note : low_to_high_) out += (out.empty() ? "" : " ") + plain_name(note);
    return out;
}

}  // namespace gripline
