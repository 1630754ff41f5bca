#include "formats/music_xml_parts.h"

#include <array>
#include <charconv>

#include "formats/harmony_kind.h"

namespace gripline::music_xml {

namespace {

constexpr std::array kNaturalFifths{0, 2, 4, -1, 1, 3, 5};  // C D E F G A B
constexpr int kFifthsOfMinor = 3;                           // a minor key has the signs of the major key a minor third above

std::string number_text(double number) {
    char out[32];
    return {out, std::to_chars(out, out + sizeof out, number).ptr};  // the shortest that reads back equal
}

void add_note_name(XmlNode parent, const char* name, NoteName note) {
    const XmlNode node = parent.add(name);
    node.add((std::string(name) + "-step").c_str(), letter(note));
    if (note.accidental() != 0) node.add((std::string(name) + "-alter").c_str(), note.accidental());
}

}  // namespace

const NoteValue& longest_within(int eighths) {
    static constexpr NoteValue kValues[] = {{12, "whole", true}, {8, "whole", false}, {6, "half", true}, {4, "half", false}, {3, "quarter", true}, {2, "quarter", false}, {1, "eighth", false}};
    for (const NoteValue& value : kValues)
        if (value.eighths <= eighths) return value;
    return kValues[6];
}

std::string letter(NoteName name) { return std::string(1, "CDEFGAB"[name.letter()]); }

int fifths(const Key& named) {
    Key key = named;
    if (key.tonic.accidental() * key.tonic.accidental() > 1) key.tonic = key.tonic.as_root();
    return kNaturalFifths.at(static_cast<std::size_t>(key.tonic.letter())) + 7 * key.tonic.accidental() - (key.minor ? kFifthsOfMinor : 0);
}

Result<Key> key_of_fifths(int fifths, bool minor) {
    constexpr int kFlattest = -8, kSharpest = 12;  // Fb and B#: letters with one accidental at most
    const int major = fifths + (minor ? kFifthsOfMinor : 0);
    if (major < kFlattest || major > kSharpest) return Error{"a key of " + std::to_string(fifths) + " fifths; keys have -7 (flats) to 7 (sharps)"};
    for (int accidental = -1; accidental <= 1; ++accidental)
        for (int step = 0; step < 7; ++step)
            if (kNaturalFifths[static_cast<std::size_t>(step)] + 7 * accidental == major) return Key{NoteName(step, accidental), minor};
    return Error{"a key of " + std::to_string(fifths) + " fifths"};  // not reached: the range above is whole
}

XmlNode add_score(const XmlDocument& document, const std::string& title) {
    const XmlNode score = document.top().add("score-partwise").set("version", "4.0");
    if (!title.empty()) score.add("work").add("work-title", title);
    return score;
}

XmlNode add_guitar(XmlNode score) {
    score.add("part-list").add("score-part").set("id", "P1").add("part-name", "Guitar");
    return score.add("part").set("id", "P1");
}

void add_key(XmlNode attributes, const Key& key) {
    const XmlNode node = attributes.add("key");
    node.add("fifths", fifths(key));
    node.add("mode", key.minor ? "minor" : "major");
}

void add_time(XmlNode attributes, const Meter& meter) {
    const XmlNode time = attributes.add("time");
    time.add("beats", meter.beats);
    time.add("beat-type", meter.unit);
}

void add_section(XmlNode measure, const std::string& section) {
    if (section.empty()) return;
    measure.add("direction").set("placement", "above").add("direction-type").add("rehearsal", section);
}

void add_tempo(XmlNode measure, const Chart& chart) {
    const XmlNode direction = measure.add("direction").set("placement", "above");
    const XmlNode metronome = direction.add("direction-type").add("metronome");
    const bool eighths = chart.meter.unit == 8;
    metronome.add("beat-unit", eighths ? "eighth" : "quarter");
    metronome.add("per-minute", number_text(chart.tempo_bpm));
    direction.add("sound").set("tempo", number_text(eighths ? chart.tempo_bpm / 2.0 : chart.tempo_bpm));  // quarters
}

void add_harmony(XmlNode measure, const PlacedChord& chord, int offset) {
    const XmlNode harmony = measure.add("harmony");
    if (chord.symbol) {
        const HarmonyKind described = harmony_kind(*chord.symbol);
        add_note_name(harmony, "root", chord.symbol->root);
        harmony.add("kind", described.kind).set("text", described.text);
        if (chord.symbol->bass) add_note_name(harmony, "bass", *chord.symbol->bass);
        for (const HarmonyDegree& each : described.degrees) {
            const XmlNode degree = harmony.add("degree").set("print-object", "no");  // the kind's text shows it
            degree.add("degree-value", each.number);
            degree.add("degree-alter", each.alteration);
            degree.add("degree-type", each.type);
        }
    } else {
        harmony.add("root").add("root-step", "C").set("text", "");
        harmony.add("kind", "none").set("text", "N.C.");
    }
    if (offset > 0) harmony.add("offset", offset);
}

}  // namespace gripline::music_xml
