// What every MusicXML 4.0 score written here has in common: its head, key, meter, tempo, harmony. Internal to src/formats.
#pragma once

#include <string>

#include "chart/chart.h"
#include "formats/xml.h"

namespace gripline::music_xml {

/// Divisions of a quarter note in the scores written here: eighths.
inline constexpr int kDivisions = 2;
inline constexpr const char* kDoctype = "score-partwise PUBLIC \"-//Recordare//DTD MusicXML 4.0 Partwise//EN\" \"http://www.musicxml.org/dtds/partwise.dtd\"";

/// "C" to "B".
[[nodiscard]] std::string letter(NoteName name);
/// The circle of fifths: how many sharps, or with a minus flats. A tonic with two accidentals counts as the same sound without.
[[nodiscard]] int fifths(const Key& key);
/// The key with so many fifths; an error outside -8 (Fb major) to 12 (B# major), in minor -5 to 15.
[[nodiscard]] Result<Key> key_of_fifths(int fifths, bool minor);

/// A length that one note can have, in eighths: its type (note-type-value of MusicXML 4.0), and a dot or none.
struct NoteValue {
    int eighths;
    const char* type;
    bool dot;
};
/// The longest that fits into so many eighths, 1 or more.
[[nodiscard]] const NoteValue& longest_within(int eighths);

/// A score of one part: `score-partwise` with its title, ready for the elements behind `work`.
[[nodiscard]] XmlNode add_score(const XmlDocument& document, const std::string& title);
/// The part-list with a guitar, and its part.
[[nodiscard]] XmlNode add_guitar(XmlNode score);
void add_key(XmlNode attributes, const Key& key);
void add_time(XmlNode attributes, const Meter& meter);
void add_section(XmlNode measure, const std::string& section);
void add_tempo(XmlNode measure, const Chart& chart);
/// `offset`: eighths from here on.
void add_harmony(XmlNode measure, const PlacedChord& chord, int offset);

}  // namespace gripline::music_xml
