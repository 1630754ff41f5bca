#include "theory/spelling.h"

#include <array>
#include <cstdlib>

#include "base/text.h"
#include "theory/accidental_text.h"

namespace gripline {

namespace {
constexpr std::array<int, 7> kNaturals{0, 2, 4, 5, 7, 9, 11};  // C D E F G A B
constexpr std::string_view kLetters = "CDEFGAB";
int natural(int letter) { return kNaturals.at(static_cast<std::size_t>(letter)); }
/// The letter of a white key, or -1.
int white_key(PitchClass pitch_class) {
    for (int letter = 0; letter < 7; ++letter)
        if (natural(letter) == pitch_class.value()) return letter;
    return -1;
}
NoteName with_sign(PitchClass pitch_class, int sign) {
    const int letter = white_key(pitch_class);
    return letter >= 0 ? NoteName(letter, 0) : NoteName(white_key(pitch_class.up(-sign)), sign);
}
/// Reads a name from the front of `text`; `at` moves behind it. False when there is none.
bool read_name(std::string_view text, std::size_t& at, NoteName& out) {
    if (text.empty()) return false;
    const auto letter = kLetters.find(text[0]);
    if (letter == std::string_view::npos) return false;
    at = 1;
    const int accidental = read_accidentals(text, at);
    if (std::abs(accidental) > 2) return false;
    out = NoteName(static_cast<int>(letter), accidental);
    return true;
}
}  // namespace

Result<NoteName> NoteName::parse(std::string_view text) {
    const std::string plain = with_plain_accidentals(text);
    std::size_t at = 0;
    NoteName name;
    if (!read_name(plain, at, name) || at != plain.size())
        return Error{"unknown note " + quoted(text) + "; a note is a capital letter A to G with at most two b or #, as Bb or F#"};
    return name;
}

PitchClass NoteName::pitch_class() const noexcept { return PitchClass(natural(letter_) + accidental_); }

std::string NoteName::text(Accidentals signs) const {
    return kLetters[static_cast<std::size_t>(letter_)] + (signs == Accidentals::ascii ? accidental_text(accidental_) : accidental_signs(accidental_));
}

NoteName NoteName::up(Interval interval) const noexcept {
    const NoteName white(letter_ + interval.number() - 1, 0);
    const int wanted = pitch_class().value() + interval.semitones();
    int accidental = white.pitch_class().up_to(PitchClass(wanted));
    if (accidental > 6) accidental -= 12;
    return {white.letter(), accidental};
}

NoteName NoteName::readable() const noexcept {
    if (std::abs(accidental_) < 2) return *this;
    return with_sign(pitch_class(), accidental_ < 0 ? -1 : 1);
}

NoteName NoteName::as_root() const noexcept {
    const int letter = white_key(pitch_class());
    return letter >= 0 ? NoteName(letter, 0) : readable();
}

Result<SpelledNote> SpelledNote::parse(std::string_view text) {
    const std::string plain = with_plain_accidentals(text);
    std::size_t at = 0;
    SpelledNote note;
    const Error unknown{"unknown note " + quoted(text) + "; a note with its octave is written as Bb3, C4 or F#2 (MIDI 0 to 127, C-1 to G9)"};
    if (!read_name(plain, at, note.name)) return unknown;
    const bool negative = at < plain.size() && plain[at] == '-';
    if (negative) ++at;
    if (at + 1 != plain.size() || plain[at] < '0' || plain[at] > '9') return unknown;
    note.octave = (plain[at] - '0') * (negative ? -1 : 1);
    if (note.octave < -1 || note.midi().number() < 0 || note.midi().number() > 127) return unknown;
    return note;
}

MidiNote SpelledNote::midi() const noexcept { return MidiNote((octave + 1) * 12 + natural(name.letter()) + name.accidental()); }
std::string SpelledNote::text(Accidentals signs) const { return name.text(signs) + std::to_string(octave); }

SpelledNote spelled(MidiNote note, NoteName name) noexcept {
    return {name, MidiNote(note.number() - name.accidental()).octave()};
}

NoteName usual_root(PitchClass pitch_class) noexcept { return with_sign(pitch_class, -1); }

NoteName approach_to(NoteName target, From from) noexcept {
    return from == From::below ? with_sign(target.pitch_class().up(-1), 1) : with_sign(target.pitch_class().up(1), -1);
}

}  // namespace gripline
